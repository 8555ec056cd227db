"""Reads about rings and meetings: what was tried, who may be rung now, what comes next."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta, tzinfo
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from django.db.models import Q, QuerySet
from django.utils import timezone

from relations.people.models import Participant, PhoneLine
from relations.people.queries import SAT
from relations.people.values import Condition, Standing
from relations.privacy.refused import Refused

from . import hours, rules
from .access import meetings
from .calendar import Hour
from .models import Call, CallKind, Meeting, Trip
from .values import (
    SITTING_MINUTES,
    TALK_MINUTES,
    CallState,
    Kind,
    MeetingFacts,
    MeetingState,
    NextRing,
    Outcome,
    SafeTimes,
    Window,
)

if TYPE_CHECKING:
    from relations.privacy.models import User

# We spoke, and nothing follows from it: no outcome of F1, for those who have sat.
SPOKE = "spoke"
NOT_REACHED = frozenset({Outcome.NO_ANSWER, Outcome.OFF})
# Somebody else's voice is no load on the person themselves.
UNANSWERED = NOT_REACHED | {Outcome.SOMEONE_ELSE, Outcome.WRONG_NUMBER}
# Outcomes that F1 counts together.
TOGETHER = (NOT_REACHED, frozenset({Outcome.THINKING, Outcome.WANTS_PICTURES}))
# A no acts on hearing: nothing stands in its way.
STOPS = frozenset({Outcome.NO, Outcome.NEVER_AGAIN})
# Those whom nobody rings; word that came through is vouched for first.
NOT_RUNG = {
    *(Standing.NAMED, Standing.SAID_NO, Standing.NEVER_RING, Standing.LET_GO),
    # Who speaks for somebody is rung instead.
    *(Standing.CLOSED, Standing.STEPPED_BACK, Standing.SPOKEN_FOR),
}
OPEN_CALLS = (CallState.PLANNED, CallState.MOVED)
AHEAD = (MeetingState.PROPOSED, MeetingState.FIXED, MeetingState.CONFIRMED, MeetingState.MOVED)
# A meeting ahead with somebody who said no since is off, whoever heard it.
OFF = Q(state__in=AHEAD, person__standing__in=(Standing.SAID_NO, Standing.NEVER_RING))
OPEN_MEETINGS = (*AHEAD, MeetingState.HELD, MeetingState.CUT_SHORT, MeetingState.NOBODY_CAME)
ONE_PRESS = (
    *(MeetingState.CONFIRMED, MeetingState.HELD, MeetingState.MOVED),
    *(MeetingState.NOBODY_CAME, MeetingState.CALLED_OFF),
)
WITH_AN_HOUR = (MeetingState.FIXED, MeetingState.CONFIRMED)
ON_ITS_DAY = {MeetingState.HELD, MeetingState.NOBODY_CAME}
LAST_RINGS = 3


@dataclass(frozen=True)
class History:
    """What was tried: how often each outcome came since the last pause, and the pauses."""

    since_pause: tuple[str, ...] = ()
    pauses: int = 0
    first_on: date | None = None

    def tries(self, outcome: Outcome) -> int:
        """How often this outcome came since the last pause, the present ring included."""
        alike: Collection[str] = next((g for g in TOGETHER if outcome in g), {outcome})
        return 1 + sum(one in alike for one in self.since_pause)


def history(person: Participant, before: datetime) -> History:
    """What we tried with a person before that moment; their own rings are left out."""
    rows = person.calls.filter(by_them=False, at__lt=before).exclude(outcome="").order_by("at")
    done = list(rows.values_list("outcome", "next_step", "at"))
    pauses = [place for place, (_, step, _) in enumerate(done) if step == Kind.PAUSE]
    begin = pauses[-1] + 1 if pauses else 0
    first = timezone.localdate(done[0][2]) if done else None
    return History(tuple(outcome for outcome, *_ in done[begin:]), len(pauses), first)


def is_not_rung(person: Participant) -> bool:
    """Whether nobody rings there: they want none of it, or cannot answer.

    Whoever holds the telephone of somebody who cannot answer for now is not known.
    """
    return person.standing in NOT_RUNG or person.condition != Condition.WELL


def of_not_rung(way: str = "") -> Q:
    """The same of rows; `way` leads from a row to the person, as "person__"."""
    cannot_answer = ~Q(**{f"{way}condition": Condition.WELL})
    return Q(**{f"{way}standing__in": NOT_RUNG}) | cannot_answer


def zone_of(lines: Iterable[PhoneLine]) -> tzinfo:
    """The time zone of a person: of the first line that names one, else the project's."""
    named = next((line.zone for line in lines if line.zone), "")
    return ZoneInfo(named) if named else timezone.get_default_timezone()


def zone_name(zone: tzinfo) -> str:
    """The place whose clock a person goes by; empty where it is the clock of the project."""
    return "" if zone == timezone.get_default_timezone() else str(zone)


def by_our_clock(person: Participant, at: datetime) -> tuple[hours.Span, ...]:
    """Their safe hours of today as our own clock shows them; () where the two show the same."""
    theirs, ours = zone_of(open_lines(person)), timezone.get_default_timezone()
    if at.astimezone(theirs).utcoffset() == at.astimezone(ours).utcoffset():
        return ()
    clock = hours.Clock(theirs, safe_times(person))
    return hours.shared(timezone.localdate(at), hours.Clock(ours), clock)


def open_lines(person: Participant) -> list[PhoneLine]:
    """The lines in use, in a fixed order."""
    return list(person.lines.filter(ended_on=None).order_by("pk"))


def safe_times(person: Participant) -> SafeTimes:
    """The safe hours and days of a person, as the rules of meetings take them."""
    hours = tuple(
        Window(time.fromisoformat(begin), time.fromisoformat(end))
        for begin, end in person.safe_hours
    )
    return SafeTimes(hours, frozenset(person.safe_days))


def what_follows(
    person: Participant, outcomes: Iterable[Outcome], at: datetime, asked_for: datetime | None
) -> dict[Outcome, NextRing]:
    """What would follow each of these outcomes of a ring at that moment (F1)."""
    lines, done, safe = open_lines(person), history(person, at), safe_times(person)
    local, shared = at.astimezone(zone_of(lines)), any(line.is_shared for line in lines)
    return {
        outcome: rules.next_ring(
            outcome,
            done.tries(outcome),
            local,
            safe,
            asked_for=asked_for,
            pauses=done.pauses,
            first_try_on=done.first_on,
            shared_line=shared,
        )
        for outcome in outcomes
    }


def load(calls: Iterable[Call]) -> list[date]:
    """The days that count as load: answered rings, messages and visits begun by us."""
    return [
        timezone.localdate(call.at)
        for call in calls
        if call.at and (call.kind != CallKind.RING or call.outcome not in UNANSWERED)
    ]


def contacts(on: date) -> QuerySet[Call]:
    begin = timezone.make_aware(datetime.combine(on - timedelta(days=31), time()))
    return Call.objects.filter(by_them=False, counts=True, at__gte=begin).exclude(outcome="")


def rest_until(person: Participant, on: date) -> date | None:
    """The day until which a person is left in peace (F2); None when they may be rung."""
    return rules.rest_until(load(contacts(on).filter(person=person)), on)


def is_overtaken(person: Participant, at: datetime) -> bool:
    """Whether a ring of a later hour is noted already: what was set since then stands."""
    return person.calls.filter(at__gt=at).exclude(outcome="").exists()


def planned(person: Participant) -> Call | None:
    """The ring that is planned for a person; there is one at most."""
    return person.calls.filter(state__in=OPEN_CALLS).order_by("due_on").first()


def last_noted(person: Participant) -> str:
    """The key of the ring noted last of a person; empty where none is."""
    done = person.calls.exclude(outcome="").order_by("-at", "-pk")
    return str(done.values_list("pk", flat=True).first() or "")


def refuse_old_page(person: Participant, seen: str) -> None:
    """Refuse (old_page) where a ring was noted since the page was opened that named `seen`.

    To be asked in the transaction of the press: two pages at one moment wait for each other.
    """
    Participant.objects.select_for_update().get(pk=person.pk)
    if seen != last_noted(person):
        raise Refused("old_page")


def last_rings(person: Participant) -> list[Call]:
    """The last three rings, as many as an assistant may see of a person (job.md 4)."""
    return list(person.calls.exclude(outcome="").order_by("-at")[:LAST_RINGS])


def may_say(person: Participant) -> str:
    """Whose name may be said as having sent us: of one who said yes; empty for nobody's."""
    asked = person.introductions.filter(may_say_who=True, is_withheld=False)
    told = asked.select_related("introducer", "outside").last()
    if told is None:
        return ""
    if told.outside is not None:
        return told.outside.label
    return told.introducer.call_name if told.introducer else ""


def has_sat(person: Participant) -> bool:
    """Whether a person has sat before the camera."""
    return person.standing in SAT


def may_be_met(person: Participant) -> bool:
    """Whether a person who has sat is met without anything being agreed anew."""
    return has_sat(person) and person.standing != Standing.STEPPED_BACK


def waiting_to_be_fixed(person: Participant) -> Meeting | None:
    """The proposed or moved meeting of a person that has no day now."""
    waiting = [MeetingState.PROPOSED, MeetingState.MOVED]
    return person.meetings.filter(state__in=waiting).order_by("-at").first()


def presses(meeting: Meeting, on: date) -> dict[MeetingState, tuple[str, ...]]:
    """The moves of a meeting that are one press, each with what stands against it on that day."""
    planned_on = timezone.localdate(meeting.at) if meeting.at else None
    facts = MeetingFacts(on=on, planned_on=planned_on, times_moved=meeting.times_moved)
    now = MeetingState(meeting.state)
    found = {
        to: rules.may_move_meeting(now, to, facts)
        for to in rules.MEETING_MOVES[now]
        if to in ONE_PRESS
    }
    if planned_on and on < planned_on:
        found |= dict.fromkeys(found.keys() & ON_ITS_DAY, ("not_yet",))
    return found


def has_fallback(meeting: Meeting, at: datetime) -> bool:
    """Whether another place and hour were agreed beforehand, and the hour is still to come."""
    return bool(meeting.fallback) and meeting.fallback_at is not None and meeting.fallback_at > at


def counts(meeting: Meeting) -> bool:
    """Whether a written-up meeting makes the person met."""
    return rules.counts(
        was_held=meeting.state == MeetingState.WRITTEN_UP,
        was_cut_short=bool(meeting.ended_why),
        power_present=meeting.power_present,
    )


def open_meetings(user: "User") -> QuerySet[Meeting]:
    """The meetings that are not over, the next first."""
    found = meetings(user).filter(state__in=OPEN_MEETINGS).exclude(OFF)
    return found.select_related("person").order_by("at", "person__code")


def coming(user: "User", at: datetime, talk: str, sitting: str) -> list[Hour]:
    """The meetings that are still to come, for a calendar: codes only, never a name or a place."""
    found = open_meetings(user).filter(state__in=WITH_AN_HOUR, at__gte=at)
    return [
        Hour(
            key=one.pk,
            at=one.at,
            lasts=timedelta(minutes=SITTING_MINUTES if one.with_camera else TALK_MINUTES),
            says=f"{sitting if one.with_camera else talk} {one.person.code}",
        )
        for one in found
        if one.at is not None
    ]


def past_meetings(user: "User") -> QuerySet[Meeting]:
    """The meetings that are over, the last first."""
    return meetings(user).exclude(state__in=OPEN_MEETINGS).select_related("person")


def trips() -> QuerySet[Trip]:
    """All trips, the last first."""
    return Trip.objects.order_by("-first_day")


def trip_on(day: date) -> Trip | None:
    """The trip on a day, else the next one."""
    return Trip.objects.filter(last_day__gte=day).order_by("first_day").first()
