"""A second person says a clause back, approves it or sends it back, and freezes a wording."""

import hashlib
from collections.abc import Mapping
from datetime import date, datetime
from typing import NamedTuple

from django.db import transaction
from django.utils import timezone

from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import editions, source
from .texts import Clause, Wording
from .values import ClauseState


class Press(NamedTuple):
    """One press on the page of a wording, and all that was typed on it, by the clause's name.

    `act`: "approve" or "send_back" with the `name` of a clause, "freeze", or "keep" what was
    typed. `seals`: of the words as the page showed them, with those on the lines under "".
    """

    act: str
    name: str
    said: Mapping[str, str]
    whys: Mapping[str, str]
    seals: Mapping[str, str]


def _locked(clause: Clause) -> Clause:
    """The clause as it is now, so that nobody approves words that changed under their eyes."""
    rows = Clause.objects.select_for_update(of=("self",)).select_related("wording")
    return rows.get(pk=clause.pk)


def _known(clause: Clause, by: User) -> editions.Reading:
    wording = clause.wording
    return editions.Reading(
        is_frozen=wording.frozen_at is not None,
        knows_language=wording.language in by.languages,
        wrote_it=by.pk in (clause.translated_by_id, wording.written_by_id),
        has_read_back=bool(clause.read_back),
        was_sent_back=clause.sent_back_by_id is not None,
        is_behind=source.is_behind(clause),
    )


def _refuse(codes: tuple[str, ...]) -> None:
    if codes:
        raise Refused(*codes)


def seal(*words: str) -> str:
    """A short mark of the words a page showed: another mark says that they have changed since."""
    return hashlib.sha256("\0".join(words).encode()).hexdigest()[:16]


@transaction.atomic
def read_back(*, clause: Clause, words: str, by: User, on: date) -> Clause:
    """Keep what a second person says that a clause says, in the artist's language.

    Refused as `editions.reading_codes` says, with "not_read_back" where nothing is said. A clause
    that was approved waits for approval again where the words are new. `on` is for callers that
    enter the past; the day that is kept is the one of `approve`.
    """
    clause = _locked(clause)
    _refuse(editions.reading_codes(_known(clause, by)))
    if not words.strip():
        raise Refused("not_read_back")
    if words == clause.read_back:
        return clause
    clause.read_back, clause.read_back_by = words, by
    clause.state, clause.approved_by, clause.approved_on = ClauseState.READ_BACK, None, None
    clause.save()
    return clause


@transaction.atomic
def approve(*, clause: Clause, by: User, on: date, words: str = "") -> Clause:
    """Let a second person, who reads the language, stand for one clause.

    `words`: what they say that it says, where they say it in the same press. Refused as
    `editions.approval_codes` says.
    """
    if words:
        read_back(clause=clause, words=words, by=by, on=on)
    clause = _locked(clause)
    _refuse(editions.approval_codes(_known(clause, by)))
    clause.state, clause.approved_by, clause.approved_on = ClauseState.APPROVED, by, on
    clause.approved_words, clause.why = clause.words, ""
    clause.save()
    return clause


@transaction.atomic
def send_back(*, clause: Clause, by: User, on: date, why: str) -> Clause:
    """Ask for a clause to be written anew, and say why in one line.

    Refused as `editions.reader_codes` says, with "why_missing" without a reason.
    """
    clause = _locked(clause)
    _refuse(editions.reader_codes(_known(clause, by)))
    if not why.strip():
        raise Refused("why_missing")
    source.set_back(clause, why=why, by=by)
    return clause


@transaction.atomic
def freeze(*, wording: Wording, by: User, at: datetime) -> Wording:
    """Close a wording for ever, so that it may be printed; an edit makes a new version.

    `by` is the second person: freezing says that they read the whole, the words on the lines
    too, as the artist's own lines are now. Refused with "frozen", "not_your_language",
    "same_person" for whoever wrote any of it, and "not_approved" while a clause waits.
    """
    clauses = list(wording.clauses.all())
    writers = {clause.translated_by_id for clause in clauses} | {wording.written_by_id}
    said = editions.Reading(
        is_frozen=wording.frozen_at is not None,
        knows_language=wording.language in by.languages,
        wrote_it=by.pk in writers,
        has_read_back=True,
        was_sent_back=False,
        is_behind=False,
    )
    _refuse(editions.reader_codes(said))
    if any(clause.state != ClauseState.APPROVED for clause in clauses):
        raise Refused("not_approved")
    if (own := source.own()) is not None:
        wording.lines_edition = own.lines_edition
    wording.read_by, wording.read_on, wording.frozen_at = by, timezone.localtime(at).date(), at
    wording.save(update_fields=["lines_edition", "read_by", "read_on", "frozen_at"])
    return wording


@transaction.atomic
def read_page(*, wording: Wording, press: Press, by: User, at: datetime) -> None:
    """Keep all that was typed on the page of a wording, then do what was pressed; all or nothing.

    Refused as the single actions are, and with "words_changed" where what was pressed is about
    other words than the page showed.
    """
    on = timezone.localtime(at).date()
    for clause in wording.clauses.all():
        said = press.said.get(clause.name, clause.read_back)
        is_about = clause.name == press.name or said not in ("", clause.read_back)
        if is_about and press.seals.get(clause.name, seal(clause.words)) != seal(clause.words):
            raise Refused("words_changed")
        if said not in ("", clause.read_back):
            clause = read_back(clause=clause, words=said, by=by, on=on)
        _note(clause, press.whys.get(clause.name, clause.why))
        if clause.name == press.name and press.act == "approve":
            approve(clause=clause, by=by, on=on)
        elif clause.name == press.name:
            send_back(clause=clause, by=by, on=on, why=press.whys.get(clause.name, ""))
    if press.act == "freeze":
        if press.seals.get("") not in (None, lines_seal(wording)):
            raise Refused("words_changed")
        freeze(wording=wording, by=by, at=at)


def _note(clause: Clause, why: str) -> None:
    """Keep why somebody may send a clause back, before they do."""
    if clause.sent_back_by_id is None and why != clause.why:
        clause.why = why
        clause.save(update_fields=["why"])


def lines_seal(wording: Wording) -> str:
    """The mark of the words on the lines."""
    return seal(*(f"{key}={words}" for key, words in sorted(wording.labels.items())))
