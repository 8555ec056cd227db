"""All that the page of introductions answers, worked out of one read of the whole web."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from . import answers, queries, shapes, steps, threads
from .graph import ARTIST, Web
from .threads import Group, Rule, Thread
from .values import Known

# Rows of one table that are read on a page; how many more there are is said.
MOST = 20


@dataclass(frozen=True)
class Hoped:
    """All groups of which somebody said how many sitters are hoped for, together."""

    sat: int
    hoped_for: int


@dataclass(frozen=True)
class Narrow:
    """A group of so many `people` that hangs on one door, or on each of several in a row."""

    group: str
    people: int
    doors: tuple[answers.OneDoor, ...]


@dataclass(frozen=True)
class Crossing:
    """One row of the table of doors: who told us, by group or code of a way, and of whom."""

    group: str
    way: str
    cells: tuple[int, ...]

    @property
    def told(self) -> int:
        """Everybody in this row."""
        return sum(self.cells)


@dataclass(frozen=True)
class Open:
    """What one rule puts among the open threads, oldest first."""

    rule: Rule
    threads: tuple[Thread, ...]


@dataclass(frozen=True)
class Today:
    """Who was thanked, and who asked to tell of others, on this day: a slip can be taken back."""

    thanked: tuple[str, ...]
    asked: tuple[str, ...]


@dataclass(frozen=True)
class Overview:
    """The eight answers and what they stand on. `names` are those of the groups, by key.

    `came_sat` counts those who sat among all whom somebody told us of. `held` of the open threads
    are on hold and left out. `plan` and `most_tied` are there where a goal was set.
    """

    names: Mapping[str, str]
    outside: frozenset[str]
    ground: answers.Ground
    far: answers.Far
    through: tuple[answers.Through, ...]
    narrow: tuple[Narrow, ...]
    came: tuple[answers.CameOfIt, ...]
    came_sat: int
    leaning: answers.Leaning
    doors: answers.Doors
    crossings: tuple[Crossing, ...]
    groups: tuple[Group, ...]
    hoped: Hoped | None
    open: tuple[Open, ...]
    held: int
    thanks: tuple[threads.Thanks, ...]
    today: Today
    within: tuple[steps.Within, ...]
    most_tied: tuple[steps.PersonSealed, ...]
    plan: steps.Plan | None
    shapes: shapes.Shapes


def overview(on: date, goal: int | None = None) -> Overview:
    """Work out every answer; `goal`: no record shows more people than this within two steps."""
    web, known, last = queries.web(), queries.known(), queries.outside_thanked()
    groups = threads.reach(known.values(), _told(web), queries.hopes())
    found = threads.threads(known.values(), groups, web.links)
    came, doors = answers.came_of_it(web, known), answers.doors(web, known)
    return Overview(
        names=queries.group_names(),
        outside=web.outside,
        ground=answers.ground(web),
        far=answers.far(web),
        through=answers.only_through(web),
        narrow=_narrow(answers.one_door(web, known)),
        came=came,
        came_sat=sum(one.sat for one in came),
        leaning=answers.leaning(web),
        doors=doors,
        crossings=_crossings(doors),
        groups=groups,
        hoped=_hoped(groups),
        open=tuple(_open(found.open)),
        held=found.held,
        thanks=threads.to_thank(web.links, known, last),
        today=_today(on, known, last),
        within=steps.within(web, known, MOST),
        most_tied=() if goal is None else steps.most_tied(web, known),
        plan=None if goal is None else steps.seal_first(web, known, goal),
        shapes=shapes.apart(web.beside, {code: known[code].community for code in known}),
    )


def _told(web: Web) -> Iterable[str]:
    """Everybody whom somebody told us of, whoever that was; not our own starts."""
    return (code for code, one in web.reached.items() if one.source != ARTIST)


def _hoped(groups: Iterable[Group]) -> Hoped | None:
    said = [(group.sat, group.hoped_for) for group in groups if group.hoped_for is not None]
    return Hoped(sum(sat for sat, _ in said), sum(hoped for _, hoped in said)) if said else None


def _open(found: tuple[Thread, ...]) -> Iterable[Open]:
    for rule in Rule:
        if own := tuple(thread for thread in found if thread.rule is rule):
            yield Open(rule, own)


def _today(on: date, known: Mapping[str, Known], last: Mapping[str, date | None]) -> Today:
    thanked = [one.code for one in known.values() if one.thanked_on == on]
    thanked += [code for code, day in last.items() if day == on]
    asked = [one.code for one in known.values() if one.asked_to_tell_on == on]
    return Today(tuple(thanked), tuple(asked))


def _narrow(found: Iterable[answers.OneDoor]) -> tuple[Narrow, ...]:
    """By group, in the order in which the gravest door of each was found."""
    by_group: dict[str, list[answers.OneDoor]] = {}
    for one in found:
        by_group.setdefault(one.group, []).append(one)
    return tuple(Narrow(key, doors[0].people, tuple(doors)) for key, doors in by_group.items())


def _crossings(doors: answers.Doors) -> tuple[Crossing, ...]:
    """The table of doors, its columns the groups of `doors`; ways without people are left out."""
    rows = [("", row.group, row.told_of) for row in doors.rows]
    ways = {"outside": doors.by_outside, "withheld": doors.by_withheld, "artist": doors.by_artist}
    rows += [(way, "", counts) for way, counts in ways.items() if counts]
    return tuple(
        Crossing(group, way, tuple(counts.get(one.code, 0) for one in doors.groups))
        for way, group, counts in rows
    )
