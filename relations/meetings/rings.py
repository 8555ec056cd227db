"""What is written when a ring is planned, comes to something, or is called off."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime, time, timedelta

from django.db import transaction
from django.utils import timezone

from relations.people import actions as people
from relations.people.models import InSight, Participant, PhoneLine, Why
from relations.people.queries import open_hold
from relations.people.rules import MOVES
from relations.people.values import Standing
from relations.privacy.home import today
from relations.privacy.models import Role, User
from relations.privacy.refused import Refused

from . import queries, rules
from .models import Call, CallKind
from .values import CallState, Kind, MeetingState, NextRing, Outcome

# A ring is not always made on its first day: the assistant keeps the person in sight for a week.
RING_DAYS = 7
STATES = {
    Outcome.NO_ANSWER: CallState.NOT_REACHED,
    Outcome.OFF: CallState.NOT_REACHED,
    Outcome.SOMEONE_ELSE: CallState.SOMEONE_ELSE,
    Outcome.WRONG_NUMBER: CallState.WRONG_NUMBER,
    Outcome.BROKE_OFF: CallState.BROKEN_OFF,
}
MOVED_BY = {
    Outcome.THINKING: Standing.THINKING_IT_OVER,
    Outcome.WANTS_PICTURES: Standing.THINKING_IT_OVER,
    Outcome.YES_MEET: Standing.MEETING_AGREED,
    Outcome.NO: Standing.SAID_NO,
}
# A talk about the matter itself, which counts as the last one we had.
TALKS = frozenset({Outcome.THINKING, Outcome.WANTS_PICTURES, Outcome.YES_MEET})


@transaction.atomic
def plan_ring(
    *,
    person: Participant,
    due_on: date,
    by: User,
    parts: Sequence[str] = (),
    due_at: datetime | None = None,
    kind: str = CallKind.RING,
) -> Call:
    """Plan a ring, message or visit: not before a day and hour, in these parts of the day.

    It takes the place of an earlier plan, and the assistants see the person from that day on for a
    week. Refused: not_vouched_for, may_not_be_rung.
    """
    _may_be_rung(person)
    _call_off_plans(person)
    return _plan(person, due_on, due_at, parts, CallKind(kind))


@transaction.atomic
def call_off_ring(*, call: Call, by: User, at: datetime) -> Call:
    """Call a planned ring off. Refused: no_such_move, where it was made already."""
    _step(call, CallState.CALLED_OFF)
    call.save(update_fields=["state"])
    return call


@transaction.atomic
def put_off(*, call: Call, due_on: date, by: User) -> Call:
    """Put a planned ring off to another day; its hour and part of the day are let go.

    Refused: no_such_move, where it was made already.
    """
    _step(call, CallState.MOVED)
    _step(call, CallState.PLANNED)
    call.due_on, call.due_at, call.parts = due_on, None, []
    call.save(update_fields=["state", "due_on", "due_at", "parts"])
    show_to_assistants(call.person, due_on, Why.RING, RING_DAYS)
    return call


@transaction.atomic
def note_call(
    *,
    person: Participant,
    outcome: str,
    by: User,
    at: datetime,
    line: PhoneLine | None = None,
    kind: str = CallKind.RING,
    by_them: bool = False,
    counts: bool = True,
    asked_for_on: date | None = None,
    asked_for_at: datetime | None = None,
) -> Call:
    """Note what a ring came to, move the person on and set the next step by F1.

    `at`: the moment of the ring, aware. `asked_for_on`, `asked_for_at`: the day or the hour they
    named. `counts`: false for a safety warning, an answer to them, an agreed delivery. `by_them`:
    they rang us. A "no" and a "never again" act at once and are never refused; a sitter's "no"
    lays a hold until the artist knows what was meant. Anything else that is noted after a later
    ring was (from paper) is kept as it was and moves nothing.
    Refused: on_hold, not_vouched_for, may_not_be_rung, rest, no_day, day_is_past, and the codes
    of people.rules. Source: job.md rows 6-9, F1, F2.
    """
    came, on = Outcome(outcome), timezone.localdate(at)
    overtaken = queries.is_overtaken(person, at)
    plan = None if overtaken else queries.planned(person)
    call = _call_of(person, plan, CallKind(kind), by_them=by_them)
    if came not in queries.STOPS:
        _may_be_made(person, on, by_them=by_them, counts=counts)
        if not overtaken:
            _begin(person, call, on, by, by_them=by_them)
    asked_for = _asked_for(person, came, at, asked_for_on, asked_for_at)
    after = queries.what_follows(person, [came], at, asked_for)[came]
    call = _write(call, came, STATES.get(came, CallState.SPOKE), after.kind, line, by, at, counts)
    _heard_of_line(came, line, on, by)
    if came in queries.STOPS or not overtaken:
        _move_on(person, came, after, line, by, at)
        _set_next(person, after, asked_for_at)
    return call


@transaction.atomic
def note_spoke(
    *,
    person: Participant,
    by: User,
    at: datetime,
    line: PhoneLine | None = None,
    kind: str = CallKind.RING,
    by_them: bool = False,
    counts: bool = True,
) -> Call:
    """Note a talk with somebody who has sat, from which nothing follows: a last word (row 39).

    Refused: has_not_sat, on_hold, may_not_be_rung, rest.
    """
    if not queries.has_sat(person):
        raise Refused("has_not_sat")
    on = timezone.localdate(at)
    _may_be_made(person, on, by_them=by_them, counts=counts)
    call = _call_of(person, queries.planned(person), CallKind(kind), by_them=by_them)
    call = _write(call, queries.SPOKE, CallState.SPOKE, Kind.NONE, line, by, at, counts)
    people.note_talk(person=person, on=on)
    _set_next(person, NextRing(Kind.NONE), None)
    return call


def show_to_assistants(person: Participant, day: date, why: Why, days: int = 1) -> None:
    """Put a person in sight of every assistant from a day on, for one work; days past are past."""
    ahead = [one for step in range(days) if (one := day + timedelta(days=step)) >= today()]
    users = User.objects.in_role(Role.ASSISTANT) if ahead else ()
    rows = [InSight(person=person, user=user, day=one, why=why) for user in users for one in ahead]
    # Twice is once, by one statement: a ring writes while nobody else can.
    InSight.objects.bulk_create(rows, ignore_conflicts=True)


def _may_be_rung(person: Participant) -> None:
    if person.standing == Standing.NAMED:
        raise Refused("not_vouched_for")
    if queries.is_not_rung(person):
        raise Refused("may_not_be_rung")


def _may_be_made(person: Participant, on: date, *, by_them: bool, counts: bool) -> None:
    """Refuse what we may not begin, and all while a hold lies on the person."""
    if open_hold(person):
        raise Refused("on_hold")
    if not by_them:
        _may_be_rung(person)
        if counts and queries.rest_until(person, on):
            raise Refused("rest")


def _begin(person: Participant, call: Call, on: date, by: User, *, by_them: bool) -> None:
    """Move somebody vouched for, resting or thinking it over to being rung, when it is time."""
    waiting = {Standing.VOUCHED_FOR, Standing.PAUSE}
    if person.standing in (waiting if by_them else waiting | {Standing.THINKING_IT_OVER}):
        facts = {"ring_again_on": on if by_them else call.due_on}
        people.move(person=person, to=Standing.BEING_RUNG, on=on, by=by, facts=facts)


def _asked_for(
    person: Participant,
    came: Outcome,
    at: datetime,
    asked_on: date | None,
    asked_at: datetime | None,
) -> datetime | None:
    """The moment they named: the hour, or the first safe hour of the day."""
    zone = queries.zone_of(queries.open_lines(person))
    if asked_at is None and asked_on is not None:
        hours = queries.safe_times(person).on(asked_on)
        asked_at = datetime.combine(asked_on, hours[0].start if hours else time(), zone)
    if asked_at is None:
        if came is Outcome.RING_LATER:
            raise Refused("no_day")
        return None
    if asked_at.astimezone(zone).date() < at.astimezone(zone).date():
        raise Refused("day_is_past")
    return asked_at.astimezone(zone)


def _call_of(person: Participant, plan: Call | None, kind: CallKind, *, by_them: bool) -> Call:
    """The planned ring that is made now, else a new row."""
    if plan is not None and plan.kind == kind and not by_them:
        return plan
    return Call(person=person, kind=kind, by_them=by_them)


def _write(
    call: Call,
    outcome: str,
    state: CallState,
    step: Kind,
    line: PhoneLine | None,
    by: User,
    at: datetime,
    counts: bool,
) -> Call:
    if call.state == CallState.MOVED:
        _step(call, CallState.PLANNED)
    for to in (CallState.UNDER_WAY, state, CallState.SETTLED):
        _step(call, to)
    call.outcome, call.next_step, call.line, call.counts = outcome, step, line, counts
    call.by, call.at = by, at
    call.save()
    return call


def _step(call: Call, to: CallState) -> None:
    if codes := rules.may_move_call(CallState(call.state), to, has_next_step=True):
        raise Refused(*codes)
    call.state = to


def _heard_of_line(came: Outcome, line: PhoneLine | None, on: date, by: User) -> None:
    """A wrong number is never rung again; a line that somebody else answers is shared."""
    if line is None:
        return
    if came is Outcome.WRONG_NUMBER:
        people.end_line(line=line, on=on, by=by)
    elif came is Outcome.SOMEONE_ELSE and not line.is_shared:
        line.is_shared = True
        line.save(update_fields=["is_shared"])


def _move_on(
    person: Participant,
    came: Outcome,
    after: NextRing,
    line: PhoneLine | None,
    by: User,
    at: datetime,
) -> None:
    on = timezone.localdate(at)
    if came in TALKS:
        people.note_talk(person=person, on=on)
    if came is Outcome.NEVER_AGAIN:
        people.never_ring(person=person, line=line, by=by, at=at)
    elif came is Outcome.NO and queries.has_sat(person):
        people.hold(person=person, by=by, at=at)
    elif to := _standing_after(person, came, after):
        tries = queries.history(person, at).tries(came)
        people.move(person=person, to=to, on=on, by=by, facts={"tries": tries})
    if came is Outcome.NEVER_AGAIN or person.standing == Standing.SAID_NO:
        person.meetings.filter(state__in=queries.AHEAD).update(state=MeetingState.CALLED_OFF)


def _standing_after(person: Participant, came: Outcome, after: NextRing) -> Standing | None:
    """Where this outcome moves a person who has not sat; None where they stay."""
    now = Standing(person.standing)
    to = Standing.PAUSE if after.kind is Kind.PAUSE else MOVED_BY.get(came)
    if now is Standing.SITTING_AGREED and to is Standing.THINKING_IT_OVER:
        to = Standing.MET  # put off
    return to if to in MOVES.get(now, {}) else None


def _set_next(person: Participant, after: NextRing, asked_at: datetime | None) -> None:
    """Plan what F1 says and call off whatever was planned before."""
    _call_off_plans(person)
    if after.kind in {Kind.RING, Kind.PAUSE} and after.not_before:
        due_at = asked_at if after.not_before == asked_at else None
        _plan(person, after.not_before.date(), due_at, after.parts, CallKind.RING)


def _call_off_plans(person: Participant) -> None:
    person.calls.filter(state__in=queries.OPEN_CALLS).update(state=CallState.CALLED_OFF)
    InSight.objects.filter(person=person, why=Why.RING, day__gt=today()).delete()


def _plan(
    person: Participant, due_on: date, due_at: datetime | None, parts: Iterable[str], kind: CallKind
) -> Call:
    show_to_assistants(person, due_on, Why.RING, RING_DAYS)
    return Call.objects.create(
        person=person, due_on=due_on, due_at=due_at, parts=[str(p) for p in parts], kind=kind
    )
