"""What the artist asks of the whole web: how far, through whom alone, and what came of it."""

from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from .figures import coleman, effective, wilson
from .graph import ARTIST, WITHHELD, Kind, Web
from .values import Known

# An interval says something from five introductions on, an index from ten (introductions.md 1).
LEAST_FOR_INTERVAL, LEAST_FOR_INDEX = 5, 10
# Of a group, in per cent: more than this reached only through one is one door only (job.md F4).
ONE_DOOR = 30
_OUTSIDE = "outside"


class Tally(NamedTuple):
    """The code of a line, a person or a group, and the people it counts."""

    code: str
    people: int


@dataclass(frozen=True, slots=True)
class Ground:
    """What all the answers stand on: how much of it is sure.

    `people` were reached, of all `hearings`; `further`, `spoke_for` and `too_early` were not first.
    `unreached`: told of only too early. `withheld`: their first introducer is not named any more.
    `inexact`: their day is not known exactly, so that their place in the order is assumed.
    """

    people: int
    hearings: int
    further: int
    spoke_for: int
    too_early: int
    unreached: int
    withheld: int
    inexact: int


@dataclass(frozen=True, slots=True)
class Far:
    """How far the project has come: people by wave, from wave 0 on, and by line, largest first.

    A line is a code of an own start or of somebody outside, or WITHHELD.
    """

    waves: tuple[int, ...]
    lines: tuple[Tally, ...]


class Through(NamedTuple):
    """One whom others hang on: `people` were, as recorded, reached only through them.

    `told_of`: whom they were the first to tell us of. `people` is an upper bound: whoever else
    told of them and was not noted would make it smaller.
    """

    code: str
    people: int
    told_of: int


class CameOfIt(NamedTuple):
    """Of those whom one was the first to tell us of (`told_of`), how many came how far.

    `interval`: where the share of those who `sat` lies, 0 to 1, Wilson at 95 %; None below five.
    """

    code: str
    told_of: int
    asked: int
    met: int
    sat: int
    said_no: int
    interval: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class Leaning:
    """How many told us, how many that counts like, and what share the first and three carry.

    `effective` and the shares are None where nobody told us of anybody.
    """

    introducers: int
    introductions: int
    effective: float | None
    top: float | None
    top_three: float | None


class Row(NamedTuple):
    """Whom one group was the first to tell us of, by group; groups with none are left out."""

    group: str
    told_of: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Like:
    """How far a group tells us of its own: `within` of its `told_of`, beside its `people`.

    `index` by Coleman: 0 as by chance, 1 only own, -1 none; None below ten, too few to say.
    """

    group: str
    people: int
    told_of: int
    within: int
    index: float | None


class Opener(NamedTuple):
    """The first person reached of a group, and who told us: a code, ARTIST or WITHHELD."""

    group: str
    person: str
    source: str


@dataclass(frozen=True, slots=True)
class Doors:
    """Who opens doors to whom, by group; "" stands for people whose group is not known.

    `groups` by people reached, most first. `rows`: by the group of who told us. `by_artist`,
    `by_outside` and `by_withheld`: the people of each group reached in that way, so that all
    together are the people reached. `within` and `across` count where both groups are known.
    """

    groups: tuple[Tally, ...]
    rows: tuple[Row, ...]
    by_artist: Mapping[str, int]
    by_outside: Mapping[str, int]
    by_withheld: Mapping[str, int]
    within: int
    across: int
    likes: tuple[Like, ...]
    openers: tuple[Opener, ...]


class OneDoor(NamedTuple):
    """`hanging` of the `people` of a group were, as recorded, reached only through `code`."""

    code: str
    group: str
    hanging: int
    people: int


def ground(web: Web) -> Ground:
    """Say how much of the web is sure."""
    kinds, first = web.kinds, web.first.values()
    too_early = kinds.count(Kind.TOO_EARLY)
    early = {link.person for link in web.links if link.kind is Kind.TOO_EARLY} if too_early else ()
    return Ground(
        people=len(first),
        hearings=len(web.heard),
        further=kinds.count(Kind.FURTHER),
        spoke_for=kinds.count(Kind.SPOKE_FOR),
        too_early=too_early,
        unreached=len(set(early) - web.first.keys()),
        withheld=[word.is_withheld for word in first].count(True),
        inexact=[word.is_exact for word in first].count(False),
    )


def far(web: Web) -> Far:
    """Count the people by wave and by line. Source: introductions.md 1.1."""
    waves, lines = Counter(web.waves_and_lines[0]), Counter(web.waves_and_lines[1])
    return Far(tuple(waves[wave] for wave in range(max(waves, default=-1) + 1)), _tallies(lines))


def only_through(web: Web) -> tuple[Through, ...]:
    """List whom others hang on, most people first. Source: introductions.md 1.2."""
    order = sorted([(-people, code) for code, people in web.hanging.items()])
    return tuple(Through(code, -people, web.told_of[code]) for people, code in order)


def came_of_it(web: Web, known: Mapping[str, Known]) -> tuple[CameOfIt, ...]:
    """List what came of whom each told us of, by count and never by share. Source: 1.3."""
    asked, met, sat, said_no = ([0] * len(web.codes) for _ in range(4))
    for code, teller in zip(web.first, web.tellers, strict=True):
        one = known.get(code)
        if one is not None:
            asked[teller] += one.was_asked
            met[teller] += one.was_met
            if one.has_sat:
                sat[teller] += 1
            else:
                said_no[teller] += one.said_no
    order = sorted([(-told, code, web.place_of[code]) for code, told in web.told_of.items()])
    return tuple(
        CameOfIt(code, -told, asked[at], met[at], sat[at], said_no[at], _interval(sat[at], -told))
        for told, code, at in order
    )


def _interval(sat: int, told_of: int) -> tuple[float, float] | None:
    return wilson(sat, told_of) if told_of >= LEAST_FOR_INTERVAL else None


def leaning(web: Web) -> Leaning:
    """Say on how few the first introductions lean. Source: introductions.md 1.4."""
    counts = sorted(web.told_of.values(), reverse=True)
    total = sum(counts)
    top, top_three = (sum(counts[:many]) / total if total else None for many in (1, 3))
    return Leaning(len(counts), total, effective(counts), top, top_three)


def groups_of(web: Web, known: Mapping[str, Known]) -> dict[str, str]:
    """The group of each person reached, in their order; "" where it is not known."""
    return {code: known[code].community if code in known else "" for code in web.first}


def doors(web: Web, known: Mapping[str, Known]) -> Doors:
    """Count the first introductions by group of who told and of whom. Source: 1.5."""
    groups = groups_of(web, known)
    outside = len(web.codes) - len(groups)
    by_place = [*[None] * outside, *groups.values()]
    pairs = zip([by_place[teller] for teller in web.tellers], groups.values(), strict=True)
    rows: dict[str | None, dict[str, int]] = defaultdict(dict)
    for (teller, group), count in Counter(pairs).items():
        rows[teller][group] = count
    ways: dict[str, Counter[str]] = {way: Counter() for way in (ARTIST, WITHHELD, _OUTSIDE)}
    openers: dict[str, Opener] = {}
    for (code, group), place in zip(groups.items(), web.tellers, strict=True):
        if place < outside:
            ways[_OUTSIDE if place else web.first[code].source][group] += 1
        if group not in openers:
            openers[group] = Opener(group, code, web.first[code].source)
    openers.pop("", None)
    order = _tallies(Counter(groups.values()))
    whole = sum(one.people for one in order if one.code)
    likes = tuple(_like(one, whole, rows[one.code]) for one in order if one.code)
    within = sum(one.within for one in likes)
    return Doors(
        groups=order,
        rows=tuple(Row(one.code, rows[one.code]) for one in order if rows[one.code]),
        by_artist=ways[ARTIST],
        by_outside=ways[_OUTSIDE],
        by_withheld=ways[WITHHELD],
        within=within,
        across=sum(one.told_of for one in likes) - within,
        likes=likes,
        openers=tuple(openers.values()),
    )


def _like(size: Tally, whole: int, row: Mapping[str, int]) -> Like:
    group, people = size
    told, own = sum(row.values()) - row.get("", 0), row.get(group, 0)
    index = coleman(own / told, people / whole) if told >= LEAST_FOR_INDEX else None
    return Like(group, people, told, own, index)


def one_door(web: Web, known: Mapping[str, Known]) -> tuple[OneDoor, ...]:
    """List through whom alone more than 30 % of a group were reached, most first. Source: F4."""
    groups = groups_of(web, known)
    sizes = Counter(groups.values())
    least = min(sizes.values(), default=0)
    # On whoever is above them hang at least as many, so these are a tree with its root.
    heavy = [code for code, people in web.hanging.items() if 100 * people > ONE_DOOR * least]
    hanging = {web.place_of[code]: dict[str, int]() for code in heavy}
    outside = len(web.codes) - len(groups)
    nearest = [0] * outside
    for group, above in zip(groups.values(), web.above[outside:], strict=True):
        door = above if above in hanging else nearest[above]
        nearest.append(door)
        if door:
            hanging[door][group] = hanging[door].get(group, 0) + 1
    for place in sorted(hanging, reverse=True):
        for group, count in hanging[place].items() if nearest[place] else ():
            counts = hanging[nearest[place]]
            counts[group] = counts.get(group, 0) + count
    found = [
        (-count, group, web.codes[place])
        for place, counts in hanging.items()
        for group, count in counts.items()
        if group and 100 * count > ONE_DOOR * sizes[group]
    ]
    return tuple(OneDoor(code, group, -n, sizes[group]) for n, group, code in sorted(found))


def _tallies(counts: Counter[str]) -> tuple[Tally, ...]:
    """The most people first, then by code."""
    order = sorted([(-people, code) for code, people in counts.items()])
    return tuple(Tally(code, -people) for people, code in order)
