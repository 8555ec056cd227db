"""The whole selection of a plan as its pages show it: answers, reasons, talks, days to come."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property
from uuid import uuid5

from django.utils.translation import gettext as _

from relations.consent.rules import WINDOWS
from relations.consent.values import Use
from relations.meetings.calendar import Entry
from relations.people.models import Participant
from relations.people.rules import counted
from relations.people.values import Risk

from . import grouping, talks
from .models import PlannedUse
from .queries import Weighed, weighed, with_kept
from .rules import INK


@dataclass(frozen=True)
class Talks:
    """What talks free: where being spoken with is enough, and where they say yes as well."""

    enough: talks.Ladder
    agreed: talks.Ladder
    # Enough is a talk from this day on; None where none is needed.
    due_from: date | None

    @property
    def is_more(self) -> bool:
        """Whether a yes in the talk frees more than the talk alone."""
        return self.agreed.whole != self.enough.whole


@dataclass(frozen=True)
class Sheet:
    """What the page of a plan shows of its whole selection."""

    rows: list[Weighed]
    totals: grouping.Totals
    stops: tuple[grouping.Group, ...]
    conditions: tuple[grouping.Group, ...]
    names: dict[str, str]
    talks: Talks
    look_again_on: date | None
    kept_at: datetime | None
    stale: list[Weighed]

    @property
    def not_kept(self) -> int:
        """How many were never weighed and kept."""
        return sum(row.kept is None for row in self.rows)

    @cached_property
    def people(self) -> tuple[grouping.Line, ...]:
        """All reasons by person."""
        return grouping.by_person({row.picture: row.answer for row in self.rows})


def sheet(plan: PlannedUse, on: date) -> Sheet:
    """Weigh a plan and put its reasons together; the call-names of those they are about beside."""
    rows = with_kept(plan, weighed(plan, on))
    answers = {row.picture: row.answer for row in rows}
    about = {
        reason.about
        for answer in answers.values()
        for reason in (*answer.stops, *answer.conditions)
    }
    people = _people(about)
    return Sheet(
        rows=rows,
        totals=grouping.totals(answers.values()),
        stops=grouping.stops(answers),
        conditions=grouping.conditions(answers),
        names={one.code: one.call_name for one in people},
        talks=_talks(plan, rows, people),
        look_again_on=min(filter(None, (row.look_again_on for row in rows)), default=None),
        kept_at=max((row.kept.weighed_at for row in rows if row.kept), default=None),
        stale=[row for row in rows if row.is_stale],
    )


def _people(codes: Collection[str]) -> list[Participant]:
    found = Participant.objects.filter(code__in=codes)
    return list(found.only("code", "call_name", "level").order_by())


def _talks(plan: PlannedUse, rows: Iterable[Weighed], people: Iterable[Participant]) -> Talks:
    answers = {row.picture: row.answer for row in rows}
    enough = talks.ladder(talks.needs(answers, talks.SPOKEN_WITH))
    due = {talk.about for talk in enough.whole.talks}
    levels = {Risk(one.level) if one.level else None for one in people if one.code in due}
    is_ink = Use(plan.use) in INK
    opens = [WINDOWS.opens_on(plan.starts_on, counted(one), is_ink=is_ink) for one in levels]
    # From the last of these days on a talk counts for each of them.
    return Talks(enough, talks.ladder(talks.needs(answers)), max(opens, default=None))


def days(plan: PlannedUse, on: date) -> list[Entry]:
    """The days on which pictures of a plan are looked at again, for a calendar: codes only."""
    found: dict[date, list[str]] = {}
    for row in weighed(plan, on):
        if row.look_again_on is not None:
            found.setdefault(row.look_again_on, []).append(row.picture)
    return [
        Entry(
            key=uuid5(plan.pk, day.isoformat()),
            first=day,
            until=day + timedelta(days=1),
            says=_("Look again: %(plan)s") % {"plan": plan.code},
            more=" ".join(pictures),
        )
        for day, pictures in sorted(found.items())
    ]
