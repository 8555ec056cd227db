"""Which rings fit now, and for whom none is planned."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any

from django.db.models import Exists, OuterRef, Q, QuerySet, Subquery
from django.utils import timezone

from relations.people.access import of, people
from relations.people.models import Participant, PersonHold, PhoneLine
from relations.people.values import Standing

from . import rules
from .models import Call
from .queries import OPEN_CALLS, contacts, load, of_not_rung, safe_times, zone_name, zone_of
from .values import PARTS, CallState, Kind, Part, Window

if TYPE_CHECKING:
    from relations.privacy.models import User

A_RING = timedelta(hours=1)
A_DAY = timedelta(days=1)


def windows(person: Participant, call: Call | None, local: datetime) -> tuple[Window, ...]:
    """The hours of this day, from now on, in which a person may be rung.

    An hour that they named themselves holds, whatever the safe hours say.
    """
    safe, day = safe_times(person).on(local.date()), local.date()
    if call and call.due_at and call.due_at.astimezone(local.tzinfo).date() == day:
        safe = _from(call.due_at.astimezone(local.tzinfo), safe)
    elif call and call.parts and call.due_on == day:
        parts = [PARTS[Part(part)] for part in call.parts]
        safe = tuple(cut for part in parts for window in safe if (cut := part.cut(window)))
    return tuple(sorted(window for window in safe if local.time() < window.end))


def _from(named: datetime, safe: tuple[Window, ...]) -> tuple[Window, ...]:
    begin = named.time()
    later = tuple(cut for window in safe if (cut := window.cut(Window(begin, time.max))))
    if later and later[0].start == begin:
        return later
    end = (named + A_RING).time()
    return (Window(begin, end if begin < end else time.max), *later)


@dataclass(frozen=True)
class Due:
    """A ring that fits today: from when and until when, and what to look out for."""

    call: Call
    person: Participant
    windows: tuple[Window, ...]
    is_now: bool
    is_shared: bool
    is_late: bool
    has_come: bool = True
    zone: str = ""


def rings_due(user: "User", at: datetime) -> list[Due]:
    """The rings that fit today: due, in sight, within safe hours, not at rest, not on hold.

    Four queries. By the hour until which they fit, then by the due day and the code (row 5).
    """
    on = timezone.localdate(at)
    # Where the sun is ahead of ours their day may have begun; `_due` asks their own clock.
    calls = list(
        Call.objects.filter(of(people(user)), state=CallState.PLANNED, due_on__lte=on + A_DAY)
        .exclude(of_not_rung("person__"))
        .exclude(person__in=PersonHold.objects.filter(lifted_at=None).values("person"))
        .select_related("person")
    )
    mine = [call.person_id for call in calls]
    lines, loads = defaultdict(list), defaultdict(list)
    for line in PhoneLine.objects.filter(person__in=mine, ended_on=None).order_by("pk"):
        lines[line.person_id].append(line)
    for done in contacts(on).filter(person__in=mine):
        loads[done.person_id].append(done)
    found = [
        _due(call, lines[call.person_id], at)
        for call in calls
        if not rules.rest_until(load(loads[call.person_id]), on)
    ]
    due = [one for one in found if one.windows and one.has_come]
    return sorted(due, key=lambda d: (not d.is_now, d.windows[0], d.call.due_on, d.person.code))


def _due(call: Call, lines: list[PhoneLine], at: datetime) -> Due:
    zone = zone_of(lines)
    local = at.astimezone(zone)
    open_hours = windows(call.person, call, local)
    return Due(
        call=call,
        person=call.person,
        windows=open_hours,
        is_now=any(window.holds(local.time()) for window in open_hours),
        is_shared=any(line.is_shared for line in lines),
        is_late=call.due_on is not None and call.due_on < local.date(),
        has_come=call.due_on is not None and call.due_on <= local.date(),
        zone=zone_name(zone),
    )


def coming_rings(user: "User", on: date) -> QuerySet[Call]:
    """The rings planned for later days, the next first."""
    later = Call.objects.filter(state=CallState.PLANNED, due_on__gt=on, person__in=people(user))
    return later.select_related("person").order_by("due_on", "person__code")


def _with_last_step(user: "User") -> QuerySet[Any, Any]:
    """People for whom no ring is planned, each with `last_step`, `last_outcome` and `last_at`."""
    done = Call.objects.filter(person=OuterRef("pk"), at__isnull=False).order_by("-at")
    planned_for = Call.objects.filter(person=OuterRef("pk"), state__in=OPEN_CALLS)
    return people(user).annotate(
        last_step=Subquery(done.values("next_step")[:1]),
        last_outcome=Subquery(done.values("outcome")[:1]),
        last_at=Subquery(done.values("at")[:1]),
    ).filter(~Exists(planned_for))  # fmt: skip


def waiting_for_a_ring(user: "User") -> QuerySet[Participant]:
    """Those vouched for or being rung, for whom no ring is planned and nobody is asked first."""
    found = _with_last_step(user).filter(standing__in=[Standing.VOUCHED_FOR, Standing.BEING_RUNG])
    found = found.exclude(of_not_rung())
    return found.filter(Q(last_step=None) | ~Q(last_step=Kind.ASK_INTRODUCER))


def only_through_introducer(user: "User") -> QuerySet[Participant]:
    """Those whom we reach only through whoever told us of them, by the last ring."""
    return _with_last_step(user).filter(last_step=Kind.ASK_INTRODUCER).exclude(of_not_rung())
