"""Whom an alarm may touch, when each may be rung, and the words to say in their language."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from django.db.models import Q, QuerySet
from django.http import Http404
from django.utils import timezone

from relations.consent.access import newest
from relations.consent.models import Form, PaperOf
from relations.consent.states import State
from relations.meetings import hours
from relations.meetings.queries import is_not_rung, safe_times, zone_name, zone_of
from relations.people.models import InSight, Participant, PersonHold, PhoneLine
from relations.people.values import Risk
from relations.prints.models import RoundDoor
from relations.privacy.models import Role

from . import queries
from .models import Alarm, Telling
from .rules import days_affected, days_printed, is_first
from .values import ON_PAPER, Lost

if TYPE_CHECKING:
    from relations.privacy.models import User

# The words on the lines of a wording that are said by telephone, in their order. They name nobody,
# no project and no cause: whoever else hears them learns that something was lost.
SAID = ("warn_free", "warn_what", "warn_choose", "warn_sorry")


def touched(what: Lost, on: date) -> QuerySet[Participant]:
    """Whom something that was lost on a day may lead to.

    A telephone or laptop shows who was in sight of an assistant on that day or the 7 before. A bag
    and papers hold what was printed for the day: the sheets of the day and the evening before, the
    rounds of these days, and forms filled in that are not home yet. Nobody else is rung: a warning
    that is not needed frightens, and each ring is a risk of its own. Source: job.md journey 10.
    """
    if what not in ON_PAPER:
        seen = InSight.objects.filter(user__role=Role.ASSISTANT, day__range=days_affected(on))
        return Participant.objects.filter(pk__in=seen.values("person"))
    days = days_printed(on)
    printed = PaperOf.objects.filter(sheet__printed_at__date__range=days)
    walked = RoundDoor.objects.filter(round__on__range=days)
    carried = Form.objects.filter(state=State.FILLED_IN).exclude(person=None)
    return Participant.objects.filter(
        Q(pk__in=printed.values("person"))
        | Q(pk__in=walked.values("print__person"))
        | Q(pk__in=carried.values("person"))
    )


@dataclass(frozen=True)
class ToRing:
    """One whom an alarm may touch: whether now, else from when, by which clock; what was done.

    `is_closed`: nobody rings there, whatever happens. `zone` is empty where it is our own.
    """

    person: Participant
    is_now: bool
    starts: datetime | None
    zone: str
    is_held: bool
    is_closed: bool
    told: Telling | None

    @property
    def may_show(self) -> bool:
        """Whether a number may be opened now."""
        return self.is_now and not self.is_closed


def ring_list(alarm: Alarm, at: datetime) -> list[ToRing]:
    """All whom an alarm may touch, in the order in which they are rung: grave first."""
    return _to_ring(alarm, queries.affected(alarm), at)


def one_of(alarm: Alarm, code: str, at: datetime) -> ToRing:
    """One of them by code. Http404 for anybody whom the alarm does not touch."""
    found = _to_ring(alarm, alarm.affected.filter(code=code), at)
    if not found:
        raise Http404
    return found[0]


def _to_ring(alarm: Alarm, people: Iterable[Participant], at: datetime) -> list[ToRing]:
    people = list(people)
    lines = defaultdict(list)
    for line in PhoneLine.objects.filter(person__in=people, ended_on=None).order_by("pk"):
        lines[line.person_id].append(line)
    held = set(
        PersonHold.objects.filter(person__in=people, lifted_at=None).values_list(
            "person", flat=True
        )
    )
    told = {one.person_id: one for one in alarm.tellings.select_related("told_by")}
    found = []
    for person in people:
        zone = zone_of(lines[person.pk])
        clock = hours.Clock(zone, safe_times(person))
        is_now = is_first(Risk(person.level) if person.level else None) or clock.is_decent(at)
        ours = hours.Clock(timezone.get_default_timezone())
        span = None if is_now else hours.next_shared(at, ours, clock)
        found.append(
            ToRing(
                person=person,
                is_now=is_now,
                starts=span.begin if span else None,
                zone=zone_name(zone),
                is_held=person.pk in held,
                is_closed=is_not_rung(person),
                told=told.get(person.pk),
            )
        )
    return found


@dataclass(frozen=True)
class Words:
    """What to say in one language, line by line; whether a second person has read it."""

    language: str
    lines: tuple[str, ...]
    was_read: bool


def words_for(person: Participant, user: "User") -> list[Words]:
    """What to say, in each of their languages that the wordings have, the preferred one first."""
    held = {one.language: one for one in newest(user) if set(SAID) <= one.labels.keys()}
    return [
        Words(tag, tuple(held[tag].labels[key] for key in SAID), held[tag].frozen_at is not None)
        for tag in person.language_list
        if tag in held
    ]
