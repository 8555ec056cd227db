"""A day sheet is typed in: each line once, by its number, dated by the event and not the typing."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any, cast
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from relations.consent.actions import take_back
from relations.consent.values import Scope
from relations.meetings import actions as meetings
from relations.meetings.models import Call, CallKind, DayLine, Meeting
from relations.meetings.queries import SPOKE, open_lines, zone_of
from relations.meetings.values import MeetingState, Outcome, Work
from relations.people import actions as people
from relations.people.models import Participant
from relations.prints import actions as prints
from relations.prints.models import Print
from relations.prints.rules import PrintState
from relations.privacy.home import now, today
from relations.privacy.models import User
from relations.privacy.refused import Refused
from relations.uses.actions import open_undo


@dataclass(frozen=True)
class Written:
    """What the pen wrote on one line: the box that was crossed, the day and the hour it happened.

    `whose`: who was written on a line for a stop. `named_on`, `named_at`: the day and the hour
    that somebody rung named. An hour is one of the place, as the rest of the sheet.
    """

    came: str
    on: date
    hour: time | None = None
    whose: Participant | None = None
    named_on: date | None = None
    named_at: time | None = None

    @property
    def at(self) -> datetime:
        """The moment of the event; a stop whose hour nobody wrote counts from its day's begin."""
        return timezone.make_aware(datetime.combine(self.on, self.hour or time()))


def type_in_all(
    lines: Iterable[tuple[DayLine, Written]], *, by: User
) -> tuple[list[int], dict[int, Refused]]:
    """Type lines in, each for itself: the numbers that are stored, and those that are refused.

    One line that cannot be does not keep the others out.
    """
    stored: list[int] = []
    refused: dict[int, Refused] = {}
    for line, written in lines:
        try:
            type_in(line=line, written=written, by=by)
        except Refused as no:
            refused[line.number] = no
        else:
            stored.append(line.number)
    return stored, refused


@transaction.atomic
def type_in(*, line: DayLine, written: Written, by: User) -> None:
    """Do what one line says, by the same actions as the presses of the screen.

    The line is the once-only token, whoever types it. Refused: typed_already, noted_already (the
    ring was noted on the screen meanwhile), not_come_yet, nobody, and the codes of the action of
    its work. Source: job.md row 48.
    """
    held = DayLine.objects.select_for_update().get(pk=line.pk)
    if held.typed_at is not None:
        raise Refused("typed_already")
    if written.on > today():
        raise Refused("not_come_yet")
    DO[Work(held.work)](held, written, by)
    held.typed_at, held.typed_by = now(), by
    held.save(update_fields=["typed_at", "typed_by"])


def _about(line: DayLine) -> UUID:
    """What a line is about: the database holds that one for no stop has it."""
    return cast("UUID", line.about)


def _stop(line: DayLine, written: Written, by: User) -> None:
    """A no acts on hearing: what it starts is dated by now, what was said by its own day."""
    person = written.whose
    if person is None:
        raise Refused("nobody")
    if written.came == "hold":
        people.hold(person=person, by=by, at=now())
    elif written.came == "never":
        _never(person, written, by, by_them=True)
    else:
        take_back(person=person, scope=Scope.ALL, said_on=written.on, by=by, at=now())
        open_undo(person=person, by=by, at=now())


def _never(person: Participant, written: Written, by: User, *, by_them: bool) -> None:
    """The day in which a slip can be undone begins with the typing; the ring keeps its own hour."""
    people.never_ring(person=person, by=by, at=now())
    meetings.note_call(
        person=person, outcome=Outcome.NEVER_AGAIN, by=by, at=written.at, by_them=by_them
    )


def _meeting(line: DayLine, written: Written, by: User) -> None:
    """Whoever came, or was waited for, had confirmed: both presses are noted at that hour."""
    meeting = Meeting.objects.select_for_update().get(pk=_about(line))
    about: dict[str, Any] = {"meeting": meeting, "by": by, "at": written.at}
    to = MeetingState(written.came)
    if meeting.state == MeetingState.FIXED and to in (MeetingState.HELD, MeetingState.NOBODY_CAME):
        meetings.confirm(**about)
    MEETINGS[to](**about)


MEETINGS: Mapping[MeetingState, Callable[..., Meeting]] = {
    MeetingState.CONFIRMED: meetings.confirm,
    MeetingState.HELD: meetings.hold_it,
    MeetingState.MOVED: meetings.move,
    MeetingState.NOBODY_CAME: meetings.nobody_came,
    MeetingState.CALLED_OFF: meetings.call_off,
}


def _door(line: DayLine, written: Written, by: User) -> None:
    row = Print.objects.get(pk=_about(line))
    out, to = PrintState.OUT_ON_A_ROUND, PrintState(written.came)
    prints.step(print=row, to=to, on=written.on, by=by, at=now(), was=out)


def _ring(line: DayLine, written: Written, by: User) -> None:
    person = cast("Participant", line.person)
    if Call.objects.filter(pk=_about(line)).exclude(outcome="").exists():
        raise Refused("noted_already")
    if written.came == Outcome.NEVER_AGAIN:
        return _never(person, written, by, by_them=False)
    only = open_lines(person)
    about: dict[str, Any] = {
        "person": person,
        "by": by,
        "at": written.at,
        "line": only[0] if len(only) == 1 else None,
        "kind": CallKind.MESSAGE if person.text_only else CallKind.RING,
    }
    if written.came == SPOKE:
        meetings.note_spoke(**about)
    else:
        meetings.note_call(**about, outcome=written.came, **_named(person, written))
    return None


def _named(person: Participant, written: Written) -> dict[str, Any]:
    """What `note_call` takes of the day, or the hour in their own zone, that they named."""
    if written.named_on is None:
        return {}
    if written.named_at is None:
        return {"asked_for_on": written.named_on}
    zone = zone_of(open_lines(person))
    return {"asked_for_at": datetime.combine(written.named_on, written.named_at, zone)}


DO: Mapping[Work, Callable[[DayLine, Written, User], None]] = {
    Work.STOP: _stop,
    Work.MEETING: _meeting,
    Work.DOOR: _door,
    Work.RING: _ring,
}
