"""Whom a record of the register would give away, within one and two steps, and what to seal."""

from bisect import insort
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from typing import NamedTuple

from relations.people.rules import counted
from relations.people.values import Risk

from .graph import ARTIST, WITHHELD, Link, Web
from .values import Known

Ties = Mapping[str, Collection[str]]
# What it weighs that somebody at this level is shown on a record (introductions.md 1.7).
WEIGHT = {Risk.GRAVE: 3, Risk.RAISED: 1, Risk.ORDINARY: 0}
# Of whoever is outside nothing is known, and what is not known counts as raised.
UNKNOWN = counted(None)
# Offered at once: a longer list is no list to seal first.
MOST_LINKS, MOST_PEOPLE, MOST_RECORDS = 50, 5, 5


class Within(NamedTuple):
    """How many others the record of one shows: those `one` step away, and up to `two`.

    `grave` and `raised`: how many of these two steps are at that level, where one whose level is
    not known counts as raised.
    """

    code: str
    one: int
    two: int
    grave: int
    raised: int


@dataclass(frozen=True, slots=True)
class Sealing:
    """One tie to seal, all hearings between `one` and `other`, and what it buys after those before.

    `fewer`: people whom records show less, over all records together; `fewer_at_risk`: how many of
    them are grave or raised. `worst`: the most that any one record shows within two steps then.
    """

    one: str
    other: str
    links: tuple[Link, ...]
    fewer: int
    fewer_at_risk: int
    worst: int


@dataclass(frozen=True, slots=True)
class Plan:
    """The ties to seal first, in this order, until no record shows more than `goal` people.

    `worst`: the most that a record shows now. `shown`: the people within two steps, over all
    records together, now. `is_reached`: whether the list gets to the goal, or was cut short.
    """

    goal: int
    worst: int
    shown: int
    sealings: tuple[Sealing, ...]
    is_reached: bool


@dataclass(frozen=True, slots=True)
class PersonSealed:
    """What it would buy to seal every tie of one person, and nothing else; as in `Sealing`."""

    code: str
    ties: int
    fewer: int
    fewer_at_risk: int
    worst: int


def within(web: Web, known: Mapping[str, Known], most: int = MOST_RECORDS) -> tuple[Within, ...]:
    """List the records, of people and of those outside, that show most, the worst first.

    Exact, though few are looked at: no record shows more people than those beside it have links.
    Source: introductions.md 1.7.
    """
    beside = web.beside
    links = {code: len(near) for code, near in beside.items()}
    waiting = [
        (-links[near[0]] if len(near) == 1 else -sum([links[other] for other in near]), code)
        for code, near in beside.items()
    ]
    heapify(waiting)
    worst: list[tuple[int, str, set[str]]] = []
    while waiting and (len(worst) < most or waiting[0][0] <= worst[-1][0]):
        _, code = heappop(waiting)
        seen = two_steps(beside, code)
        insort(worst, (-len(seen), code, seen))
        del worst[most:]
    return tuple(_shown(code, links[code], seen, known) for _, code, seen in worst)


def within_of(web: Web, known: Mapping[str, Known], code: str) -> Within:
    """Say what the record of one shows; KeyError where the code stands nowhere."""
    return _shown(code, len(web.beside[code]), two_steps(web.beside, code), known)


def _shown(code: str, one: int, seen: set[str], known: Mapping[str, Known]) -> Within:
    levels = [known[other].level if other in known else UNKNOWN for other in seen]
    return Within(code, one, len(seen), levels.count(Risk.GRAVE), levels.count(Risk.RAISED))


def _sizes(beside: Ties) -> dict[str, int]:
    """How many are within two steps of each."""
    find = beside.__getitem__
    return {code: len({code}.union(near, *map(find, near))) - 1 for code, near in beside.items()}


def two_steps(beside: Ties, code: str) -> set[str]:
    """Everybody within two steps of one, who is not among them."""
    seen = set(beside[code]).union(*map(beside.__getitem__, beside[code]))
    seen.discard(code)
    return seen


class _Record:
    """The ties as they are while some are sealed, and how many people each record shows."""

    def __init__(self, web: Web, known: Mapping[str, Known]) -> None:
        self.beside = {code: set(near) for code, near in web.beside.items()}
        self.level = {code: known[code].level if code in known else UNKNOWN for code in self.beside}
        self.size = _sizes(self.beside)

    def worst(self) -> int:
        return max(self.size.values(), default=0)

    def lost(self, one: str, other: str) -> list[tuple[str, str]]:
        """The pairs that are not within two steps any more once this tie is sealed."""
        beside = self.beside
        pairs = [] if beside[one] & beside[other] else [(one, other)]
        for end, middle in ((one, other), (other, one)):
            near = beside[end]
            for far in beside[middle]:
                if far != end and far not in near and len(near & beside[far]) == 1:
                    pairs.append((end, far))
        return pairs

    def seal(self, one: str, other: str) -> list[tuple[str, str]]:
        """Seal a tie; the pairs that it parts."""
        pairs = self.lost(one, other)
        self.beside[one].discard(other)
        self.beside[other].discard(one)
        for pair in pairs:
            for code in pair:
                self.size[code] -= 1
        return pairs

    def give_back(self, ties: Iterable[tuple[str, str]], pairs: Iterable[tuple[str, str]]) -> None:
        """Undo the sealing of these ties, which parted these pairs."""
        for one, other in ties:
            self.beside[one].add(other)
            self.beside[other].add(one)
        for pair in pairs:
            for code in pair:
                self.size[code] += 1

    def at_risk(self, pairs: Iterable[tuple[str, str]]) -> int:
        """How many at risk are shown less, over both records of each pair."""
        return sum(self.level[code] is not Risk.ORDINARY for pair in pairs for code in pair)


def seal_first(web: Web, known: Mapping[str, Known], goal: int, most: int = MOST_LINKS) -> Plan:
    """List the ties to seal until no record shows more than `goal` people within two steps.

    One after the other, that which takes most weight at risk from the records, then most people,
    among those that make a record above the goal show fewer; no promise that no shorter list
    exists. At most `most` ties. ValueError for a goal below 0. Source: introductions.md 1.7.
    """
    if goal < 0:
        raise ValueError("a record cannot show fewer than nobody")
    record = _Record(web, known)
    links = _between(web)
    worst, shown = record.worst(), sum(record.size.values())
    over = {code for code, size in record.size.items() if size > goal}
    heap = [(_worth(record, over, pair), pair) for pair in links]
    heapify(heap)
    sealings: list[Sealing] = []
    while over and len(sealings) < most:
        claimed, pair = heappop(heap)
        if pair[1] not in record.beside[pair[0]]:
            continue
        worth = _worth(record, over, pair)
        if worth != claimed:
            heappush(heap, (worth, pair))
            continue
        touched = {*pair, *record.beside[pair[0]], *record.beside[pair[1]]}
        lost = record.seal(*pair)
        over -= {code for code in touched if record.size[code] <= goal}
        sealings.append(
            Sealing(*pair, links[pair], 2 * len(lost), record.at_risk(lost), record.worst())
        )
        for code in touched:
            for other in record.beside[code]:
                beside = (min(code, other), max(code, other))
                heappush(heap, (_worth(record, over, beside), beside))
    return Plan(goal, worst, shown, tuple(sealings), not over)


def _worth(record: _Record, over: set[str], pair: tuple[str, str]) -> tuple[int, int, int]:
    """How soon a tie is sealed, the least first: does it help, what weight, how many people."""
    lost = record.lost(*pair)
    helps = 0
    if pair[0] in over or pair[1] in over:
        helps = 1
    if any(one in over or other in over for one, other in lost):
        helps = 2
    weight = sum(WEIGHT[record.level[code]] for both in lost for code in both)
    return -helps, -weight, -len(lost)


def _between(web: Web) -> dict[tuple[str, str], tuple[Link, ...]]:
    """All hearings between two, by the two codes in order."""
    found: dict[tuple[str, str], list[Link]] = defaultdict(list)
    for link in web.links:
        one, other = sorted((link.introducer, link.person))
        if link.introducer not in (ARTIST, WITHHELD) and one != other:
            found[one, other].append(link)
    return {pair: tuple(links) for pair, links in found.items()}


def most_tied(
    web: Web, known: Mapping[str, Known], most: int = MOST_PEOPLE
) -> tuple[PersonSealed, ...]:
    """Say what sealing each of those with most ties would buy; the most tied first."""
    record, beside = _Record(web, known), web.beside
    order = sorted((code for code in beside if beside[code]), key=lambda c: (-len(beside[c]), c))
    return tuple(_seal_person(record, code) for code in order[:most])


def _seal_person(record: _Record, code: str) -> PersonSealed:
    """What it would buy; the record is as it was again."""
    sealed = [(code, other) for other in sorted(record.beside[code])]
    lost = [pair for tie in sealed for pair in record.seal(*tie)]
    found = PersonSealed(code, len(sealed), 2 * len(lost), record.at_risk(lost), record.worst())
    record.give_back(sealed, lost)
    return found
