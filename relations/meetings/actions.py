"""What is written about meetings, and by which names the other actions of the room go."""

from collections.abc import Collection
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from relations.people import actions as people
from relations.people.models import Participant, Why
from relations.people.queries import open_hold
from relations.people.values import Standing
from relations.privacy.refused import Refused

from . import queries, rules
from .helpers import add_helper, are_of_their_kind, choose_helpers
from .models import Helper, Meeting, Trip
from .recordings import (
    add_interview,
    add_recording,
    choose_day,
    destroy,
    note_how_are_you,
    note_off_the_phone,
    note_transcript,
)
from .rings import call_off_ring, note_call, note_spoke, plan_ring, put_off, show_to_assistants
from .stays import open_trip, place_trip
from .values import EXPLAINED, TOLD_BACK, MeetingFacts, MeetingState

if TYPE_CHECKING:
    from relations.privacy.models import User

__all__ = [
    "add_helper", "add_interview", "add_recording", "call_off", "call_off_ring", "choose_day",
    "choose_helpers", "confirm", "destroy", "fix", "hold_it", "move", "move_as_agreed",
    "nobody_came", "note_call", "note_how_are_you", "note_off_the_phone", "note_spoke",
    "note_transcript", "open_trip", "place_trip", "plan_ring", "propose", "put_off",
    "show_to_assistants", "write_up",
]  # fmt: skip

# The assistant confirms on the day before and writes up within two days after.
DAYS_AROUND = 4
# A meeting moves those who are being rung or think it over; these stand where they are.
KNOWN_WELL = {Standing.MEETING_AGREED, Standing.MET, Standing.SITTING_AGREED}


@transaction.atomic
def propose(
    *,
    person: Participant,
    by: "User",
    on: date,
    at: datetime | None = None,
    place: str = "",
    trip: Trip | None = None,
    place_is_theirs: bool = True,
) -> Meeting:
    """Note a meeting that is wanted and not fixed yet. Refused: on_hold, no_such_move."""
    _come_nearer(person, on, by)
    return Meeting.objects.create(
        person=person, at=at, place=place, trip=trip, place_is_theirs=place_is_theirs
    )


@transaction.atomic
def fix(
    *,
    person: Participant,
    at: datetime,
    place: str,
    by: "User",
    on: date,
    company: str = "",
    exit_signal: str = "",
    fallback: str = "",
    fallback_at: datetime | None = None,
    interpreter: Helper | None = None,
    with_camera: bool = False,
    trip: Trip | None = None,
    place_is_theirs: bool = True,
    meeting: Meeting | None = None,
) -> Meeting:
    """Fix a meeting, a new one or a proposed or moved one, at the place and hour they chose.

    `at`: the moment of the meeting, aware; `on`: the day on which it is fixed. The assistants see
    the person from the day before to two days after. `fallback_at`: the moment of the fallback,
    after the meeting. Refused: on_hold, no_such_move, no_place, place, exit_signal, not_theirs,
    not_an_interpreter, fallback.
    """
    if not place.strip():
        raise Refused("no_place")
    are_of_their_kind(interpreter, None)
    if fallback_at is not None and not (fallback.strip() and fallback_at > at):
        raise Refused("fallback")
    meeting = meeting or Meeting(person=person)
    if meeting.person_id != person.pk:
        raise Refused("not_theirs")
    _wait_for(meeting)
    _come_nearer(person, on, by)
    meeting.at, meeting.place = at, place
    meeting.fallback, meeting.fallback_at = fallback, fallback_at
    meeting.place_is_theirs, meeting.exit_signal = place_is_theirs, exit_signal
    meeting.company, meeting.trip, meeting.with_camera = company, trip, with_camera
    meeting.interpreter = interpreter or meeting.interpreter
    _go(meeting, MeetingState.FIXED, on)
    meeting.save()
    _show_around(meeting)
    return meeting


@transaction.atomic
def confirm(*, meeting: Meeting, by: "User", at: datetime) -> Meeting:
    """Note the agreed sign of the day before. Refused: no_such_move, too_early, day_passed."""
    return _press(meeting, MeetingState.CONFIRMED, at)


@transaction.atomic
def move(*, meeting: Meeting, by: "User", at: datetime) -> Meeting:
    """Note that a meeting is put off; it is fixed anew by `fix(meeting=…)`.

    Refused: no_such_move, moved_once.
    """
    _wait_for(meeting)
    _go(meeting, MeetingState.MOVED, timezone.localdate(at))
    meeting.times_moved += 1
    meeting.save(update_fields=["state", "times_moved"])
    return meeting


@transaction.atomic
def move_as_agreed(*, meeting: Meeting, by: "User", at: datetime) -> Meeting:
    """Move a meeting to the place and hour that were agreed for it beforehand; it is fixed again.

    The power or the road may be cut, so nothing is asked. The sign to leave, the company and those
    who help stay. Refused: no_such_move, moved_once, no_fallback, fallback_is_past.
    """
    _wait_for(meeting)
    on = timezone.localdate(at)
    if not meeting.fallback.strip() or meeting.fallback_at is None:
        raise Refused("no_fallback")
    if meeting.fallback_at <= at:
        raise Refused("fallback_is_past")
    _go(meeting, MeetingState.MOVED, on)
    meeting.at, meeting.place = meeting.fallback_at, meeting.fallback
    meeting.fallback, meeting.fallback_at = "", None
    meeting.times_moved += 1
    _go(meeting, MeetingState.FIXED, on)
    meeting.save()
    _show_around(meeting)
    return meeting


@transaction.atomic
def call_off(*, meeting: Meeting, by: "User", at: datetime) -> Meeting:
    """Call a meeting off; the person stands where they stood. Refused: no_such_move."""
    return _press(meeting, MeetingState.CALLED_OFF, at)


@transaction.atomic
def nobody_came(*, meeting: Meeting, by: "User", at: datetime) -> Meeting:
    """Note that nobody came. Refused: no_such_move, not_yet."""
    _not_before_its_day(meeting, at)
    return _press(meeting, MeetingState.NOBODY_CAME, at)


@transaction.atomic
def hold_it(*, meeting: Meeting, by: "User", at: datetime) -> Meeting:
    """Note that a meeting was held; it is written up next. Refused: no_such_move, not_yet."""
    _not_before_its_day(meeting, at)
    return _press(meeting, MeetingState.HELD, at)


@transaction.atomic
def write_up(
    *,
    meeting: Meeting,
    power_present: bool | None,
    explained: Collection[str],
    told_back: Collection[str],
    by: "User",
    at: datetime,
    ended_why: str = "",
    late_why: str = "",
    wants_time: bool = False,
) -> Meeting:
    """Write a held meeting up: who was there, what was explained, what they told back.

    `power_present`: somebody who has power over them was there; then, or when it was cut short
    (`ended_why`: safety or their_wish), it does not count and they stand where they stood. One
    that counts makes them met; four of four told back, sitting agreed, unless they want time.
    Refused: no_such_move, who_was_there, no_such_tick, why_late, why.
    Source: job.md rows 10-13 and 2 (Meeting, Person).
    """
    if power_present is None:
        raise Refused("who_was_there")
    if not set(explained) <= set(EXPLAINED) or not set(told_back) <= set(TOLD_BACK):
        raise Refused("no_such_tick")
    _wait_for(meeting)
    on = timezone.localdate(at)
    meeting.ended_why, meeting.late_why = ended_why, late_why
    if ended_why:
        _go(meeting, MeetingState.CUT_SHORT, on)
    _go(meeting, MeetingState.WRITTEN_UP, on, hours_since=_hours_since(meeting, at))
    meeting.power_present = power_present
    meeting.explained = [code for code in EXPLAINED if code in explained]
    meeting.told_back = [code for code in TOLD_BACK if code in told_back]
    meeting.written_up_at, meeting.written_up_by = at, by
    meeting.save()
    if queries.counts(meeting):
        _met(meeting, by, wants_time=wants_time)
    return meeting


def _come_nearer(person: Participant, on: date, by: "User") -> None:
    """A meeting with somebody new is agreed; nobody meets whom a hold or a no keeps away."""
    if open_hold(person):
        raise Refused("on_hold")
    if person.standing in KNOWN_WELL or queries.may_be_met(person):
        return
    people.move(person=person, to=Standing.MEETING_AGREED, on=on, by=by)


def _go(meeting: Meeting, to: MeetingState, on: date, hours_since: int = 0) -> None:
    facts = MeetingFacts(
        on=on,
        planned_on=timezone.localdate(meeting.at) if meeting.at else None,
        place_is_theirs=meeting.place_is_theirs,
        has_exit_signal=bool(meeting.exit_signal.strip()),
        times_moved=meeting.times_moved,
        hours_since=hours_since,
        late_why=bool(meeting.late_why.strip()),
        ended_why=meeting.ended_why,
    )
    if codes := rules.may_move_meeting(MeetingState(meeting.state), to, facts):
        raise Refused(*codes)
    meeting.state = to


def _show_around(meeting: Meeting) -> None:
    before = timezone.localdate(meeting.at) - timedelta(days=1)
    show_to_assistants(meeting.person, before, Why.MEETING, DAYS_AROUND)


def _wait_for(meeting: Meeting) -> None:
    """Two presses at one moment come one after the other: a meeting called off stays so."""
    if not meeting._state.adding:
        fields = ["state", "times_moved", "fallback", "fallback_at"]
        meeting.refresh_from_db(fields=fields, from_queryset=Meeting.objects.select_for_update())


def _press(meeting: Meeting, to: MeetingState, at: datetime) -> Meeting:
    _wait_for(meeting)
    _go(meeting, to, timezone.localdate(at))
    meeting.save(update_fields=["state"])
    return meeting


def _not_before_its_day(meeting: Meeting, at: datetime) -> None:
    if meeting.at and timezone.localdate(at) < timezone.localdate(meeting.at):
        raise Refused("not_yet")


def _hours_since(meeting: Meeting, at: datetime) -> int:
    return int((at - meeting.at).total_seconds() // 3600) if meeting.at else 0


def _met(meeting: Meeting, by: "User", *, wants_time: bool) -> None:
    """Move the person on after a meeting that counts, dated by the meeting."""
    person, on = meeting.person, timezone.localdate(meeting.at)
    people.note_talk(person=person, on=on)
    on = max(on, person.standing_since)
    if person.standing == Standing.MEETING_AGREED:
        alone = {"power_was_absent": True}
        people.move(person=person, to=Standing.MET, on=on, by=by, facts=alone)
    told = len(meeting.told_back)
    if person.standing == Standing.MET and told == len(TOLD_BACK) and not wants_time:
        facts = {"told_back": told}
        people.move(person=person, to=Standing.SITTING_AGREED, on=on, by=by, facts=facts)
