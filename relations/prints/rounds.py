"""In which order the doors of a round are walked, and how long it takes (F16).

Moments are whole minutes since midnight of the day of the round. Source: job.md F16; that a door
takes eight minutes and a round ten doors at most is common practice, no source.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

AT_A_DOOR = 8
MOST = 10
DAY = 24 * 60

# Minutes from one quarter to another as the assistant noted them.
Minutes = Mapping[tuple[str, str], int]


@dataclass(frozen=True, slots=True)
class Door:
    """One door: whose key, in which quarter, and the hours that were agreed for it.

    The whole visit lies between `opens` and `closes`.
    """

    key: str
    quarter: str
    opens: int = 0
    closes: int = DAY


@dataclass(frozen=True, slots=True)
class Span:
    """The time there is: when one sets out, from which quarter ("" where that does not count),
    and when the last door must be behind one: at dark, or before.
    """

    sets_out: int
    ends: int
    quarter: str = ""


@dataclass(frozen=True, slots=True)
class Way:
    """A way through some doors: their indices in order, when each visit begins, what it takes.

    `at` is when the last visit is over; `travel` counts the minutes between quarters.
    """

    order: tuple[int, ...] = ()
    begins: tuple[int, ...] = ()
    at: int = 0
    travel: int = 0

    @property
    def cost(self) -> tuple[int, int, int, tuple[int, ...]]:
        """What makes one way better than another: more doors, over sooner, less on the road."""
        return -len(self.order), self.at, self.travel, self.order


@dataclass(frozen=True, slots=True)
class Walk:
    """The order found: each door's key with the minute at which one is there, and its cost.

    `minutes` from setting out to the end of the last visit: `travel`, eight at each door, and the
    `waiting` until a door opens. `left` are the doors that cannot be reached, each with the code
    of why: minutes_unknown, hours_passed, dark, not_together.
    """

    stops: tuple[tuple[str, int], ...]
    travel: int
    waiting: int
    minutes: int
    ends: int
    left: tuple[tuple[str, str], ...]


def plan(doors: Sequence[Door], minutes: Minutes, span: Span) -> Walk:
    """Give the shortest way inside the agreed hours, from setting out to the end of the last door.

    Exact: no other order serves more doors, and of those that serve as many none is over sooner.
    Ten doors take a sixth of a second, so that nothing is gained by an order that is only near
    the best beyond eight. Raise ValueError for more than `MOST`.
    """
    if len(doors) > MOST:
        raise ValueError(f"at most {MOST} doors")
    roads = _Roads(doors, minutes, span)
    best = _best(roads)
    stops = zip((doors[index].key for index in best.order), best.begins, strict=True)
    whole = best.at - span.sets_out
    return Walk(
        stops=tuple(stops),
        travel=best.travel,
        waiting=whole - best.travel - AT_A_DOOR * len(best.order),
        minutes=whole,
        ends=best.at,
        left=tuple(
            (door.key, roads.why_left(index, best))
            for index, door in enumerate(doors)
            if index not in best.order
        ),
    )


def between(minutes: Minutes, start: str, end: str) -> int | None:
    """Give the minutes from one quarter to another; None where nobody has noted them.

    What is noted one way holds both ways. Inside one quarter it is nothing unless noted.
    """
    for pair in ((start, end), (end, start)):
        if pair in minutes:
            return minutes[pair]
    return 0 if start == end else None


def unknown(quarters: Iterable[str], minutes: Minutes) -> list[tuple[str, str]]:
    """List the pairs of quarters whose minutes nobody has noted, each once, by name."""
    pairs = combinations(sorted(set(quarters)), 2)
    return [(start, end) for start, end in pairs if between(minutes, start, end) is None]


class _Roads:
    """The doors of one round with the roads between them, for whoever looks for an order."""

    def __init__(self, doors: Sequence[Door], minutes: Minutes, span: Span) -> None:
        self.doors, self.minutes, self.span = doors, minutes, span

    @property
    def start(self) -> Way:
        return Way(at=self.span.sets_out)

    def on(self, way: Way, index: int) -> Way | None:
        """A way one door longer; None where that door cannot be reached in its hours by it."""
        visit = self._visit(way, self.doors[index])
        if visit is None:
            return None
        road, begins = visit
        over = begins + AT_A_DOOR
        if over > min(self.doors[index].closes, self.span.ends):
            return None
        return Way((*way.order, index), (*way.begins, begins), over, way.travel + road)

    def _visit(self, way: Way, door: Door) -> tuple[int, int] | None:
        """The road to a door after a way, and when one is let in; None where it is not noted."""
        road = self._road(way, door)
        return None if road is None else (road, max(way.at + road, door.opens))

    def _road(self, way: Way, door: Door) -> int | None:
        came_from = self.doors[way.order[-1]].quarter if way.order else self.span.quarter
        return between(self.minutes, came_from, door.quarter) if came_from else 0

    def why_left(self, index: int, found: Way) -> str:
        """Why a door is not on the way that was found: by itself, or after the others."""
        door = self.doors[index]
        first, last = (self._visit(way, door) for way in (self.start, found))
        if first is None:
            return "minutes_unknown"
        if self.on(self.start, index) is None:
            return "hours_passed" if first[1] + AT_A_DOOR > door.closes else "dark"
        roads = (between(self.minutes, one.quarter, door.quarter) for one in self.doors)
        if last is None or None in roads:
            return "minutes_unknown"
        return "not_together" if last[1] + AT_A_DOOR > door.closes else "dark"


def _best(roads: _Roads) -> Way:
    """The best way of all, door by door over every set of doors.

    Of the ways through one set that end at one door, all are carried on that are not both later
    and longer than another: dynamic programming over sets (Held and Karp 1962, from memory).
    """
    layer: dict[tuple[frozenset[int], int], list[Way]] = {(frozenset(), -1): [roads.start]}
    best = roads.start
    while layer:
        longer: dict[tuple[frozenset[int], int], list[Way]] = {}
        for (seen, _last), ways in layer.items():
            for index in set(range(len(roads.doors))) - seen:
                found = longer.setdefault((seen | {index}, index), [])
                for way in ways:
                    _keep(found, roads.on(way, index))
        layer = {key: ways for key, ways in longer.items() if ways}
        best = min((way for ways in (*layer.values(), [best]) for way in ways), key=_cost)
    return best


def _keep(ways: list[Way], fresh: Way | None) -> None:
    """Put a way among those that end alike, unless one of them is no worse in any respect."""
    if fresh is None or any(way.at <= fresh.at and way.travel <= fresh.travel for way in ways):
        return
    ways[:] = [way for way in ways if way.at < fresh.at or way.travel < fresh.travel]
    ways.append(fresh)


def _cost(way: Way) -> tuple[int, int, int, tuple[int, ...]]:
    return way.cost
