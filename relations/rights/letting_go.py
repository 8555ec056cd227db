"""The keeper lets go: what is due, confirmed one by one, or postponed once with a sentence."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import Q

from relations.consent.models import Form
from relations.meetings.models import Recording
from relations.people.models import Introduction, Participant, PersonHold
from relations.prints.models import Print, Promise
from relations.prints.rules import ENDS as PRINT_ENDS
from relations.privacy.models import Role, User
from relations.privacy.month_keys import last_day
from relations.privacy.refused import Refused

from . import clocks, destroying, due, erasing, leaving
from .clocks import NEVER_LATER, OF_PERSONS, Clock, Proposal
from .models import LettingGo

# Clocks whose rows name a person; the others name a thing by its random key, or a month.
BY_PERSON = OF_PERSONS | {Clock.WAYS}
# The ways from a hold to what goes: nothing of a held person moves.
WHOSE: dict[Clock, tuple[str, ...]] = {
    **dict.fromkeys(BY_PERSON, ("person",)),
    Clock.LINKS: ("person__introductions",),
    Clock.RECORDINGS: ("person__interviews__recordings", "person__forms__recording"),
    Clock.FORMS: ("person__forms",),
}


@dataclass(frozen=True)
class Line:
    """One line of the list: what is due, and until when it was postponed, with which sentence."""

    proposal: Proposal
    postponed_until: date | None = None
    sentence: str = ""

    def waits(self, on: date) -> bool:
        """Whether somebody is to decide of it on that day."""
        return self.postponed_until is None or self.postponed_until <= on


def lines(on: date) -> list[Line]:
    """All that is due on a day, by clock; postponed ones too, with their sentence."""
    known = {
        (row.clock, str(row.person_id or row.thing), row.due_on): row
        for row in LettingGo.objects.exclude(postponed_until=None)
    }
    found = []
    for one in due.proposals(on):
        row = known.get((one.clock, one.key, one.due_on))
        found.append(Line(one, row.postponed_until, row.sentence) if row else Line(one))
    return found


def waiting(on: date) -> list[Line]:
    """What is due on a day and not postponed beyond it."""
    return [line for line in lines(on) if line.waits(on)]


def line_of(clock: str, key: str, on: date) -> Line | None:
    """One line of what waits, by its clock and key; None where it is not due, or gone."""
    of_key = (
        line for line in waiting(on) if (line.proposal.clock, line.proposal.key) == (clock, key)
    )
    return next(of_key, None)


def why_not_yet(one: Proposal, at: datetime) -> tuple[str, ...]:
    """Why something cannot be let go yet; nothing where it can.

    "is_held": a hold lies on the person, until somebody has looked; "still_owed": a print or a
    promise of theirs has no ending, and is brought by way of what would go. For a whole person
    also the codes of `erasing.why_not_yet`.
    """
    held = (Q(**{way: one.key}) for way in WHOSE.get(one.clock, ()))
    is_held = any(PersonHold.objects.filter(way, lifted_at=None).exists() for way in held)
    found = ["is_held"] if is_held else []
    if one.clock not in BY_PERSON:
        return tuple(found)
    owed = Print.objects.filter(person=UUID(one.key)).exclude(state__in=PRINT_ENDS).exists()
    open_promise = Promise.objects.filter(person=UUID(one.key), kept_on=None, ended_how="").exists()
    if owed or open_promise:
        found.append("still_owed")
    if one.clock in OF_PERSONS:
        found += erasing.why_not_yet(Participant.objects.get(pk=one.key), at)
    return tuple(found)


def counts(one: Proposal) -> dict[str, int]:
    """How much goes with a whole person, as `leaving.counts`; nothing is counted of a thing."""
    if one.clock not in OF_PERSONS:
        return {}
    return leaving.counts(Participant.objects.get(pk=one.key))


@transaction.atomic
def confirm(*, line: Line, by: User, at: datetime, on: date) -> None:
    """Let go of what is due, for good, and note that it was confirmed; never whose it was.

    Whole persons, links, numbers, recordings and forms stand in the ledger before they go. Where
    this is cut short nothing of the rows has gone, and the next opening ends it. Refused:
    keeper_only, postponed, the codes of `why_not_yet`, of `erasing.erase` and of `destroying`.
    Source: job.md A 52 and F-keep; GDPR art. 5(1)(e).
    """
    _check(line, by, on)
    if codes := why_not_yet(line.proposal, at):
        raise Refused(*codes)
    _row(line.proposal, confirmed_on=on, confirmed_by=by)
    LET_GO[line.proposal.clock](line.proposal, by, at, on)


@transaction.atomic
def postpone(*, line: Line, sentence: str, by: User, on: date) -> LettingGo:
    """Keep something for 90 days more from that day, once, with a sentence that says why.

    Refused: keeper_only, postponed, postponed_before, no_sentence, and never_later for the keys
    of backups.
    """
    _check(line, by, on)
    if line.postponed_until is not None:
        raise Refused("postponed_before")
    if line.proposal.clock in NEVER_LATER:
        raise Refused("never_later")
    if not sentence.strip():
        raise Refused("no_sentence")
    return _row(line.proposal, postponed_until=clocks.postponed(on), sentence=sentence.strip())


def _check(line: Line, by: User, on: date) -> None:
    if not by.is_one_of(Role.KEEPER):
        raise Refused("keeper_only")
    if not line.waits(on):
        raise Refused("postponed")


def _row(one: Proposal, **said: Any) -> LettingGo:
    whose: dict[str, Any] = {"person_id": one.key} if one.clock in BY_PERSON else {"thing": one.key}
    row, _ = LettingGo.objects.update_or_create(
        clock=one.clock, due_on=one.due_on, **whose, defaults=said
    )
    return row


Act = Callable[[Proposal, User, datetime, date], object]


def _person(one: Proposal, by: User, at: datetime, on: date) -> None:
    erasing.erase(person=Participant.objects.get(pk=one.key), by=by, at=at)


def _ways(one: Proposal, by: User, at: datetime, on: date) -> None:
    destroying.ways(person=Participant.objects.get(pk=one.key), by=by)


def _rings(one: Proposal, by: User, at: datetime, on: date) -> None:
    destroying.rings(on=on)


def _link(one: Proposal, by: User, at: datetime, on: date) -> None:
    destroying.link(row=Introduction.objects.get(pk=one.key), by=by)


def _recording(one: Proposal, by: User, at: datetime, on: date) -> None:
    destroying.recording(row=Recording.objects.get(pk=one.key), by=by, on=on)


def _form(one: Proposal, by: User, at: datetime, on: date) -> None:
    destroying.form(row=Form.objects.get(pk=one.key), by=by, on=on)


def _see_log(one: Proposal, by: User, at: datetime, on: date) -> None:
    destroying.see_log(on=on)


def _backups(one: Proposal, by: User, at: datetime, on: date) -> None:
    """The keys of all months that are over go in one writing of the key file; each is noted."""
    for month in destroying.backups(on=on):
        due_on = clocks.backup(last_day(month))
        _row(Proposal(one.clock, month, due_on, month), confirmed_on=on, confirmed_by=by)


LET_GO: dict[Clock, Act] = {
    **dict.fromkeys(OF_PERSONS, _person),
    Clock.WAYS: _ways,
    Clock.RINGS: _rings,
    Clock.LINKS: _link,
    Clock.RECORDINGS: _recording,
    Clock.FORMS: _form,
    Clock.SEE_LOG: _see_log,
    Clock.BACKUPS: _backups,
}
