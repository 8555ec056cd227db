"""What funders are told in numbers: counted up to a fixed day, said by the rule, and kept.

Three one-way tables. None of them crosses another, and no two count the same thing two ways: people
who sat, by group; people we heard of, by half-year; prints in people's hands, by half-year. Prints
by group are left out: no group can have more people with a print than people who sat.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from datetime import date, datetime
from enum import StrEnum
from typing import Any

from django.db import transaction
from django.db.models import Min, Q
from django.db.models.functions import Coalesce

from relations.languages.sorting import by_name
from relations.people.models import Community, Participant
from relations.people.values import Risk
from relations.prints.models import Print
from relations.prints.rules import PrintState
from relations.privacy.log import note
from relations.privacy.models import User
from relations.privacy.refused import Refused

from .counts import LEAST, LEAST_GRAVE, Cell, Kind, Said, Table, may_stand_together, table
from .models import CountsReport

KIND = "rights.countsreport"
IN_HAND = (PrintState.IN_HAND, PrintState.ACKNOWLEDGED)
JULY = 7


class Counted(StrEnum):
    """What is counted, in the order of the paper."""

    SAT = "sat"
    HEARD = "heard"
    PRINTS = "prints"


@dataclass(frozen=True)
class Titled:
    """One table of a report, with the names that its rows had when it was said."""

    what: Counted
    said: Table
    names: Mapping[str, str]

    @property
    def rows(self) -> list[tuple[str, Said]]:
        """Each row with the key or the name that it stands under."""
        return [(self.names.get(key, key), said) for key, said in self.said.rows.items()]

    @property
    def is_by_group(self) -> bool:
        """Whether its rows are groups; else they are half-years."""
        return self.what is Counted.SAT

    @property
    def kinds(self) -> set[Kind]:
        """In which ways its numbers are said, for the words below it."""
        return {said.kind for said in (*self.said.rows.values(), self.said.total)}

    @property
    def is_kept(self) -> bool:
        """Whether some number stands as it did in the report before."""
        return any(said.is_kept for said in (*self.said.rows.values(), self.said.total))


@dataclass(frozen=True)
class Report:
    """What is said as of a day; `said_at` is None for one that nobody printed yet.

    `left_out` names the tables that would tell too much beside another.
    """

    as_of: date
    tables: tuple[Titled, ...]
    said_at: datetime | None = None

    @property
    def left_out(self) -> list[Counted]:
        """The tables that this report does not have."""
        return [what for what in Counted if what not in {one.what for one in self.tables}]


def fixed_day(on: date) -> date:
    """The last fixed day that is over: 30 June or 31 December."""
    return date(on.year, 6, 30) if on.month >= JULY else date(on.year - 1, 12, 31)


def half_of(on: date) -> str:
    """The half-year of a day, as "2026-1"."""
    return f"{on.year}-{1 if on.month < JULY else 2}"


def reports() -> list[Report]:
    """What was said so far, newest first."""
    return [_read(row) for row in CountsReport.objects.all()]


def newest(on: date) -> Report:
    """The report of the last fixed day: what was said of it, or what would be."""
    day = fixed_day(on)
    earlier = reports()
    if earlier and earlier[0].as_of >= day:
        return earlier[0]
    last = {one.what: one for report in reversed(earlier) for one in report.tables}
    return Report(day, _tables(day, last))


@transaction.atomic
def say(*, day: date, on: date, by: User, at: datetime) -> Report:
    """Keep what is said as of a fixed day and give it back; a second time it is what was kept.

    Only the report of the last fixed day can be new. That it was printed is noted.
    Refused: no_report.
    """
    kept = CountsReport.objects.filter(as_of=day).first()
    if kept is None:
        new = newest(on)
        if new.said_at is not None or new.as_of != day:
            raise Refused("no_report")
        said = [_write(one) for one in new.tables]
        kept = CountsReport.objects.create(as_of=day, said_at=at, said_by=by, said=said)
    note(by, "printed", KIND, kept.pk)
    return _read(kept)


def _tables(day: date, last: Mapping[Counted, Titled]) -> tuple[Titled, ...]:
    groups, names = _sat(day)
    counted = {
        Counted.SAT: groups,
        Counted.HEARD: _by_half(_heard(day), day, last.get(Counted.HEARD)),
        Counted.PRINTS: _by_half(_in_hand(day), day, last.get(Counted.PRINTS)),
    }
    said = {
        what: Titled(
            what,
            table(cells, last[what].said if what in last else None),
            names if what is Counted.SAT else {},
        )
        for what, cells in counted.items()
    }
    if not may_stand_together(said[Counted.SAT].said, said[Counted.HEARD].said):
        del said[Counted.HEARD]
    return tuple(said.values())


def _sat(day: date) -> tuple[list[Cell], dict[str, str]]:
    """Whoever sat by a day, by group, and the names of the groups.

    Nobody in a group is hidden in every group: else a zero that is shown would tell that nobody
    there is at risk. Who is in no group stands in a row of their own.
    """
    people = Participant.objects.order_by().annotate(
        first=Min("sittings__on", filter=Q(sittings__on__lte=day))
    )
    found, grave, ungrouped = Counter[str](), set(), False
    for key, level, first in people.values_list("community__key", "level", "first"):
        ungrouped = ungrouped or key is None
        found[key or ""] += first is not None
        if level == Risk.GRAVE:
            grave.add(key or "")
    groups = Community.objects.values_list("key", "name")
    names = dict(by_name(groups.order_by("key"), lambda group: group[1]))
    if ungrouped:
        names[""] = ""
    cells = [
        Cell(key, found[key], LEAST_GRAVE if key in grave else LEAST, hides_zero=True)
        for key in names
    ]
    return cells, names


def _heard(day: date) -> Iterable[date]:
    return Participant.objects.filter(heard_on__lte=day).values_list("heard_on", flat=True)


def _in_hand(day: date) -> Iterable[date]:
    """The days on which prints that are in people's hands came there."""
    came = Min("steps__on", filter=Q(steps__became__in=IN_HAND))
    found = Print.objects.filter(state__in=IN_HAND).order_by()
    found = found.annotate(came_on=Coalesce(came, "state_on")).filter(came_on__lte=day)
    return found.values_list("came_on", flat=True)


def _by_half(days: Iterable[date], upto: date, last: Titled | None) -> list[Cell]:
    """Days counted by half-year, from the first that has one, or that had one last time."""
    found = Counter(half_of(day) for day in days)
    keys = [*found, *(last.said.rows if last else ())]
    if not keys:
        return []
    first = int(min(keys)[:4])
    halves = [f"{year}-{half}" for year in range(first, upto.year + 1) for half in (1, 2)]
    return [Cell(half, found[half]) for half in halves if min(keys) <= half <= half_of(upto)]


def _write(one: Titled) -> dict[str, Any]:
    said = one.said
    return {
        "what": one.what,
        "names": dict(one.names),
        # A list, since not every database keeps the order of a mapping.
        "rows": [[key, asdict(row)] for key, row in said.rows.items()],
        "total": asdict(said.total),
        "basis": said.basis,
        "anchor": said.anchor,
    }


def _read(row: CountsReport) -> Report:
    tables = (
        Titled(
            Counted(one["what"]),
            Table(
                {key: _said(said) for key, said in one["rows"]},
                _said(one["total"]),
                one["basis"],
                one["anchor"],
            ),
            one["names"],
        )
        for one in row.said
    )
    return Report(row.as_of, tuple(tables), row.said_at)


def _said(kept: Mapping[str, Any]) -> Said:
    return Said(**{**kept, "kind": Kind(kept["kind"])})
