"""What the page of a wording shows: two languages beside each other, and what changed in them."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from django.conf import settings
from django.forms import BoundField, Form
from django.http import Http404

from relations.documents.values import PaperKind
from relations.languages.changes import Run, changes
from relations.languages.direction import direction
from relations.languages.reading_level import Level, level
from relations.privacy.models import User

from . import access, approvals, source, wordings
from .texts import Clause, Wording
from .values import ClauseState

KINDS = list(PaperKind)
Runs = tuple[Run, ...]


@dataclass(frozen=True)
class Pair:
    """One clause beside the same clause in another language, which may have none."""

    clause: Clause
    other: Clause | None
    stamp: str  # its state, or "sent_back", or "behind" where the artist's words have changed
    level: Level | None
    # What changed, in heading and words, since it was approved last; empty where nothing did.
    since: list[Runs]
    # What changed in the artist's words since it was translated.
    moved: list[Runs]
    said: BoundField | None  # where its reader types what it says; None for everybody else
    why: BoundField | None  # and why it goes back

    @property
    def seal(self) -> str:
        """The mark of the words as they are shown."""
        return approvals.seal(self.clause.words)

    @property
    def may_read(self) -> bool:
        """Whether it is this user who may read it as its second person."""
        return self.said is not None

    @property
    def may_say(self) -> bool:
        """Whether its reader can say now what it says."""
        return self.may_read and self.stamp not in ("sent_back", "behind", ClauseState.APPROVED)


@dataclass(frozen=True)
class Paper:
    """One paper of a wording: its kind and its clauses in order."""

    kind: PaperKind
    pairs: list[Pair]

    @property
    def approved(self) -> int:
        """How many of its clauses are approved."""
        return sum(pair.clause.state == ClauseState.APPROVED for pair in self.pairs)


def beside(user: User, wording: Wording) -> Wording | None:
    """The wording that stands beside one being read: what the artist wrote.

    Beside the artist's own words a frozen one first, of the languages the reader names; else the
    newest of any other, and among those the language that the project is run in.
    """
    if not source.is_own(wording.language) and (own := source.own()) is not None:
        return own
    others = [one for one in access.wordings(user) if one.language != wording.language]
    known = [one for one in others if one.language in user.languages] or others
    return max(
        known,
        key=lambda one: (
            one.frozen_at is not None,
            one.version,
            one.language == settings.RELATIONS_OFFICE_LANGUAGE,
        ),
        default=None,
    )


def papers(wording: Wording, other: Wording | None, form: Form | None = None) -> list[Paper]:
    """The clauses of a wording by paper, the form first, each beside the other language's."""
    theirs = {clause.name: clause for clause in other.clauses.all()} if other else {}
    late = source.behind(wording)
    followed = source.followed(wording.language)
    mine = wording.clauses.select_related("translated_by", "approved_by", "read_back_by")
    pairs = [
        _pair(clause, theirs.get(clause.name), followed.get(clause.name), late, form)
        for clause in sorted(mine, key=lambda one: (KINDS.index(PaperKind(one.paper)), one.number))
    ]
    return [
        Paper(PaperKind(kind), list(held))
        for kind, held in groupby(pairs, key=lambda pair: pair.clause.paper)
    ]


def _pair(
    clause: Clause,
    other: Clause | None,
    says: Clause | None,
    late: Collection[str],
    form: Form | None,
) -> Pair:
    """What stands about one clause; it may be read where the form has a field for that."""
    is_behind = clause.name in late
    may_read = form is not None and f"said_{clause.name}" in form.fields
    stamp = "behind" if is_behind else clause.state
    return Pair(
        clause=clause,
        other=other,
        stamp="sent_back" if clause.sent_back_by_id else stamp,
        level=level(clause.text, clause.wording.language),
        since=_changed(clause.approved_words, clause.words),
        moved=_changed(clause.source_words, says.words) if is_behind and says else [],
        said=form[f"said_{clause.name}"] if may_read and form else None,
        why=form[f"why_{clause.name}"] if may_read and form else None,
    )


def _changed(before: str, now: str) -> list[Runs]:
    """What changed in heading and words; nothing where what was before is not known."""
    if not before:
        return []
    parts = zip(before.partition("\n")[::2], now.partition("\n")[::2], strict=True)
    return [changes(old, new) for old, new in parts if old.split() != new.split()]


def lines(wording: Wording, other: Wording | None) -> Iterator[tuple[str, str, str]]:
    """The words on the lines: key, words, and the other language's words."""
    theirs = other.labels if other else {}
    for key, words in sorted(wording.labels.items()):
        yield key, words, theirs.get(key, "")


def shown(
    user: User, wording: Wording, other: Wording | None, form: Form | None = None
) -> dict[str, Any]:
    """Two wordings beside each other, and whether this user may read the first."""
    own = source.own()
    return {
        "wording": wording,
        "beside": other,
        "papers": papers(wording, other, form),
        "lines": list(lines(wording, other)),
        "lines_seal": approvals.lines_seal(wording),
        "are_lines_behind": own is not None and own.lines_edition != wording.lines_edition,
        "runs": direction(wording.language),
        "beside_runs": direction(other.language) if other else "ltr",
        "source": settings.RELATIONS_SOURCE_LANGUAGE,
        "source_runs": direction(settings.RELATIONS_SOURCE_LANGUAGE),
        "may_read": access.may_approve(user, wording),
        "may_write": access.may_write(user, wording.language),
        "readers": access.readers([wording])[0][1],
    }


def model_for(user: User, language: str) -> Wording:
    """The wording from which a new text begins. Http404 where the user may not write it."""
    model = wordings.model_for(language)
    if model is None or not access.may_write(user, language):
        raise Http404
    return model
