"""Reads for the last words: every plan that is still to come, weighed, and who must be heard."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from uuid import UUID, uuid5

from relations.consent.answers import Answer, Code
from relations.consent.values import INK, Use, Windows
from relations.meetings.calendar import Entry
from relations.people.models import Participant
from relations.people.rules import counted
from relations.people.values import Condition, Risk

from . import last_words, queries
from .last_words import Need, Talk
from .models import PlannedUse

WORDS = frozenset({Code.CHECK_IN, Code.LAST_WORD})


@dataclass(frozen=True)
class Due:
    """One talk, with the person it is held with and whether its days have begun on a day."""

    talk: Talk
    person: Participant
    on: date

    @property
    def is_open(self) -> bool:
        """Whether a talk on that day serves every plan beside it."""
        return self.talk.from_on <= self.on

    @property
    def sooner(self) -> Need | None:
        """The plan that an earlier talk would serve, which then asks for another for the rest."""
        first = self.talk.first
        return None if self.is_open or first.opens_on == self.talk.from_on else first

    @property
    def may_be_now(self) -> bool:
        """Whether a talk on that day would serve one of the plans, though not yet all."""
        return self.sooner is not None and self.sooner.opens_on <= self.on


def due(on: date) -> list[Due]:
    """Every talk that something planned waits for, in the order of the calendar."""
    found = list(_needs(on))
    people = {
        one.code: one for one in Participant.objects.filter(code__in={n.person for n in found})
    }
    return [Due(talk, people[talk.person], on) for talk in last_words.talks(found, on)]


def _needs(on: date) -> list[Need]:
    plans = PlannedUse.objects.filter(dropped_on=None, starts_on__gt=on)
    needs: list[Need] = []
    for plan in plans:
        answers = {one.picture: one.answer for one in queries.weighed(plan, on)}
        needs += _of_plan(plan, answers)
    return needs


def _of_plan(plan: PlannedUse, answers: dict[str, Answer]) -> list[Need]:
    """What one plan waits for: each person once, with all their pictures in it."""
    waits: dict[str, list[str]] = defaultdict(list)
    frees: dict[str, list[str]] = defaultdict(list)
    stopping: set[str] = set()
    for picture, answer in answers.items():
        for reason in (*answer.stops, *answer.conditions):
            if reason.code in WORDS:
                waits[reason.about].append(picture)
        for reason in answer.stops:
            if reason.code is Code.CHECK_IN:
                stopping.add(reason.about)
                if len(answer.stops) == 1:
                    frees[reason.about].append(picture)
    people = Participant.objects.filter(code__in=waits)
    return [
        _need(plan, one, waits[one.code], frees[one.code], stops=one.code in stopping)
        for one in people
    ]


def _need(
    plan: PlannedUse, person: Participant, waits: list[str], frees: list[str], *, stops: bool
) -> Need:
    risk = Risk(person.level) if person.level else None
    days = Windows().days(counted(risk), is_ink=Use(plan.use) in INK)
    return Need(
        person=person.code,
        plan=plan.code,
        opens_on=plan.starts_on - timedelta(days=days),
        before=plan.starts_on,
        risk=risk,
        pictures=tuple(waits),
        frees=tuple(frees),
        stops=stops,
        of_speaker=person.condition != Condition.WELL,
    )


def entries(found: list[Due], says: str) -> list[Entry]:
    """The same as days of a calendar; a talk keeps its key when a start moves its days."""
    return [
        Entry(
            key=_key(one),
            first=one.talk.from_on,
            until=one.talk.before,
            says=f"{says} {one.person.code}",
            more=" ".join(need.plan for need in one.talk.needs),
        )
        for one in found
    ]


def _key(one: Due) -> UUID:
    return uuid5(one.person.pk, one.talk.needs[0].plan)
