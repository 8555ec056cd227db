"""Wordings are written clause by clause; `approvals` holds how a second person reads them."""

import string
from collections.abc import Collection, Mapping
from typing import NamedTuple

from django.db import transaction

from relations.documents.values import PaperKind
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import source
from .source import latest
from .texts import Clause, Wording
from .values import ClauseState

Texts = Mapping[str, tuple[str, str]]


def model_for(language: str) -> Wording | None:
    """The wording whose clauses and labels a new version in this language begins from.

    The newest in the language itself; for a language that has none yet, the artist's own words,
    or the newest of any.
    """
    return (
        latest(language) or source.own() or Wording.objects.order_by("-version", "language").first()
    )


def slots(words: str) -> set[str]:
    """The names in braces that a label must keep, as in "side {page} of {pages}"."""
    return {name for _, name, _, _ in string.Formatter().parse(words) if name}


class Written(NamedTuple):
    """What somebody wrote: heading and text by clause, the words on the lines, and who it was.

    `stands` names the clauses that were sent back, or follow older words, and hold as they are.
    """

    texts: Texts
    labels: Mapping[str, str]
    stands: Collection[str]
    by: User


@transaction.atomic
def write_wording(
    *,
    language: str,
    texts: Texts,
    by: User,
    labels: Mapping[str, str] | None = None,
    stands: Collection[str] = (),
) -> Wording:
    """Write the clauses of a language; a frozen wording is never touched, a new version follows.

    `texts` gives (heading, text) by the clause's name. An unfrozen version is written on: only
    what changed waits for a reader again. `stands` names drafts whose words hold as they are.
    A change in the language the artist writes sends its translations back. Refused with
    "no_model" where no wording shows which clauses there are, "unknown_clause",
    "clause_missing", "slots" where a label lost a name in braces, "nothing_changed".
    """
    model = model_for(language)
    if model is None:
        raise Refused("no_model")
    clauses = list(model.clauses.all())
    _check(clauses, model.labels, texts, labels)
    written = Written(texts, {**model.labels, **(labels or {})}, stands, by)
    if model.language != language:
        return _begin(language, model, written)
    changed = {
        clause.name for clause in clauses if (clause.heading, clause.text) != texts[clause.name]
    }
    are_lines_changed = written.labels != model.labels
    if not (changed or are_lines_changed or _held(clauses, stands) or _is_closed_unread(model)):
        raise Refused("nothing_changed")
    wording = model if model.frozen_at is None else _next(model, changed, by)
    _write_on(wording, written, changed, are_lines_changed=are_lines_changed)
    if source.is_own(language):
        source.send_translations_back(changed, are_lines_changed=are_lines_changed)
    return wording


def _is_closed_unread(wording: Wording) -> bool:
    """Whether it was frozen before clauses were said back: its next version is to be read."""
    waiting = wording.clauses.exclude(state=ClauseState.APPROVED)
    return wording.frozen_at is not None and waiting.exists()


def _held(clauses: Collection[Clause], stands: Collection[str]) -> bool:
    return any(one.name in stands and one.state == ClauseState.DRAFTED for one in clauses)


def _check(
    clauses: list[Clause], held: Mapping[str, str], texts: Texts, labels: Mapping[str, str] | None
) -> None:
    names = {clause.name for clause in clauses}
    if set(texts) - names or set(labels or {}) - set(held):
        raise Refused("unknown_clause")
    if names - set(texts) or any(not text.strip() for _, text in texts.values()):
        raise Refused("clause_missing")
    for key, words in (labels or {}).items():
        if slots(words) != slots(held[key]):
            raise Refused("slots")


def _begin(language: str, model: Wording, written: Written) -> Wording:
    """The first wording of a language, clause by clause beside the model's."""
    wording = Wording.objects.create(
        language=language,
        version=model.version,
        labels=dict(written.labels),
        lines_edition=model.lines_edition,
        written_by=written.by,
    )
    for clause in model.clauses.all():
        one = source.carry(clause, wording)
        one.approved_words = ""
        _rewrite(one, written, clause if source.is_own(model.language) else None)
    return wording


def _next(frozen: Wording, changed: Collection[str], by: User) -> Wording:
    """The version after a frozen one, in which a clause that did not change keeps its reader."""
    wording = source.next_version(frozen)
    wording.written_by = by
    wording.save(update_fields=["written_by"])
    # Who wrote the new version cannot be the one who read it, not even of an old clause.
    for clause in wording.clauses.filter(approved_by=by):
        if clause.name not in changed:
            _unread(clause, by)
            clause.save()
    return wording


def _write_on(
    wording: Wording, written: Written, changed: Collection[str], *, are_lines_changed: bool
) -> None:
    """Change a wording that nobody can print yet."""
    own = source.is_own(wording.language)
    if are_lines_changed:
        wording.labels, wording.written_by = dict(written.labels), written.by
        wording.lines_edition += own
        wording.save(update_fields=["labels", "written_by", "lines_edition"])
    followed = source.followed(wording.language)
    for clause in wording.clauses.all():
        is_held = clause.name in written.stands and clause.state == ClauseState.DRAFTED
        if clause.name in changed or is_held:
            clause.source_version += own and clause.name in changed
            _rewrite(clause, written, followed.get(clause.name))


def _rewrite(clause: Clause, written: Written, says: Clause | None) -> None:
    """Write a clause anew; `says` is the clause in the artist's own words that it follows."""
    clause.heading, clause.text = written.texts[clause.name]
    if says is not None:
        clause.source_version, clause.source_words = says.source_version, says.words
    _unread(clause, written.by)
    clause.save()


def _unread(clause: Clause, by: User) -> None:
    """Let a clause wait for a second person, with `by` as the one who answers for its words."""
    for field, value in source.UNREAD.items():
        setattr(clause, field, value)
    clause.state, clause.translated_by = ClauseState.TRANSLATED, by


def words_of(
    wording: Wording, paper: PaperKind = PaperKind.FORM
) -> tuple[list[Clause], dict[str, str]]:
    """The clauses of one paper in order, and its words on the lines by their plain keys.

    Words on the lines that every paper shares, such as "page_of", are the form's: they stand
    under the form's keys in every paper, where the paper has none of its own.
    """
    clauses = [clause for clause in wording.clauses.all() if clause.paper == paper]
    shared = {key: words for key, words in wording.labels.items() if "." not in key}
    mine = {
        key.removeprefix(f"{paper}."): words
        for key, words in wording.labels.items()
        if key.startswith(f"{paper}.")
    }
    return clauses, {**shared, **mine}
