"""How everybody was reached: one sweep over all that was heard, and who hangs on whom."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from functools import cached_property
from heapq import heappop, heappush
from typing import NamedTuple

# Whoever told us and is not named any more: one and the same stub, whatever the reason.
WITHHELD = "?"
# The artist, as whoever told us of an own start.
ARTIST = ""


@dataclass(frozen=True, slots=True)
class Word:
    """One hearing of a person, by codes.

    `introducer` is "" for the artist's own start. `wave` is given only where the link was erased
    and the wave alone was kept. `number` tells hearings of one day apart: the order of entry.
    `on` is the first day of the month or year where no more is known; `is_exact` is then False.
    """

    person: str
    introducer: str
    on: date
    number: int = 0
    wave: int | None = None
    is_withheld: bool = False
    is_exact: bool = True

    @property
    def source(self) -> str:
        """Who told us, with one name for all who are withheld."""
        return WITHHELD if self.is_withheld else self.introducer


class Reached(NamedTuple):
    """How a person was first reached: the day, through whom, how far out, and from which start.

    `first` is "" for an own start and for a withheld introducer. `line` is the code of the own
    start or of whoever is outside, or WITHHELD: the beginning that this person goes back to.
    """

    on: date
    first: str
    wave: int
    is_withheld: bool = False
    line: str = ""
    is_exact: bool = True

    @property
    def source(self) -> str:
        """Who told us first: a code, ARTIST or WITHHELD."""
        return WITHHELD if self.is_withheld else self.first


class Kind(StrEnum):
    """What one hearing was to the way in which its person was reached."""

    FIRST = "first"
    FURTHER = "further"
    SPOKE_FOR = "spoke_for"
    TOO_EARLY = "too_early"


class Link(NamedTuple):
    """One hearing as what it came to be: `introducer` is a code, ARTIST or WITHHELD."""

    introducer: str
    person: str
    on: date
    kind: Kind
    is_exact: bool = True


@dataclass(frozen=True)
class Web:
    """All that was heard, worked out once.

    `first` gives the hearing that reached each person, in the order of being reached; whoever is
    told of only too early is not in it. `heard` has every hearing in that of being heard, and
    `kinds` what each was. Places number the artist 0, then whoever is outside, then the people in
    the order of being reached: `place_of` by code, `codes` by place. For those people in turn,
    `tellers` has the place of who told us first, 0 also for who is withheld; `above`, by place,
    that of the last one whom all roads to somebody pass.
    """

    first: Mapping[str, Word]
    heard: list[Word]
    kinds: list[Kind]
    outside: frozenset[str]
    place_of: Mapping[str, int]
    tellers: list[int]
    above: list[int]

    @classmethod
    def of_parts(
        cls,
        reached: Mapping[str, Reached],
        links: tuple[Link, ...],
        outside: frozenset[str],
        hanging: Mapping[str, int],
    ) -> "Web":
        """A web of parts made elsewhere, to be drawn and not to be asked: another in disguise."""
        found = cls({}, [], [], outside, {}, [], [])
        vars(found).update(reached=reached, links=links, hanging=hanging)
        return found

    @cached_property
    def codes(self) -> list[str]:
        """The code at each place."""
        return list(self.place_of)

    @cached_property
    def waves_and_lines(self) -> tuple[list[int], list[str]]:
        """Of each person in turn: one wave further than who told us first, and in their line."""
        outside = len(self.codes) - len(self.first)
        waves, lines = [-1, *[0] * (outside - 1)], self.codes[:outside]
        for (code, word), teller in zip(self.first.items(), self.tellers, strict=True):
            waves.append((word.wave or 0) if word.is_withheld else waves[teller] + 1)
            lines.append(WITHHELD if word.is_withheld else lines[teller] or code)
        return waves[outside:], lines[outside:]

    @cached_property
    def reached(self) -> Mapping[str, Reached]:
        """How each person was first reached, in the order of being reached."""
        both = zip(self.first.values(), self.tellers, *self.waves_and_lines, strict=True)
        return {
            w.person: Reached(w.on, self.codes[teller], wave, w.is_withheld, line, w.is_exact)
            for w, teller, wave, line in both
        }

    @cached_property
    def links(self) -> tuple[Link, ...]:
        """Every hearing as what it came to be, in the order of being heard; none is left out."""
        both = zip(self.heard, self.kinds, strict=True)
        return tuple(Link(w.source, w.person, w.on, kind, w.is_exact) for w, kind in both)

    @cached_property
    def hanging(self) -> Mapping[str, int]:
        """How many people, as recorded, were reached only through each code that others hang on."""
        above, counts = self.above, [0] * len(self.above)
        for place in range(len(counts) - 1, 0, -1):
            counts[above[place]] += 1 + counts[place]
        return {code: n for code, n in zip(self.codes[1:], counts[1:], strict=True) if n}

    @cached_property
    def told_of(self) -> Mapping[str, int]:
        """How many people each introducer was the first to tell us of."""
        return {self.codes[place]: n for place, n in Counter(self.tellers).items() if place}

    @cached_property
    def beside(self) -> Mapping[str, list[str]]:
        """Who stands beside whom, both ways and once, over links of every kind; of all told of.

        Without the artist and whoever is withheld: they lead from nobody to anybody.
        """
        beside: dict[str, list[str]] = defaultdict(list)
        beside.update({code: [] for code in self.first})
        for word in self.heard:
            person, told = word.person, word.introducer
            others = beside[person]
            if told and not word.is_withheld and told != person:
                ours = beside[told]
                if (told not in others) if len(others) < len(ours) else (person not in ours):
                    ours.append(person)
                    others.append(told)
        return dict(beside)


def web(words: Iterable[Word], outside: Iterable[str] = ()) -> Web:
    """Work out all that was heard. O(m log m) for m hearings, in whatever order they come."""
    heard, beyond = _in_order(words), frozenset(outside)
    first, later = _sweep(heard, beyond)
    codes = [ARTIST, *sorted(beyond.difference(first)), *first]
    place_of = dict(zip(codes, range(len(codes)), strict=True))
    kinds, roads = [Kind.FIRST] * len(heard), []
    for number, word in later:
        kinds[number] = kind = _later(word, first, place_of)
        if kind is Kind.FURTHER:
            told = 0 if word.is_withheld else place_of[word.introducer]
            roads.append((place_of[word.person], told))
    tellers = [0 if w.is_withheld else place_of[w.introducer] for w in first.values()]
    above = _above([0] * (len(codes) - len(first)) + tellers, roads)
    return Web(first, heard, kinds, beyond, place_of, tellers, above)


def sweep(words: Iterable[Word], outside: Iterable[str] = ()) -> Mapping[str, Reached]:
    """Give for each person how they were first reached, in the order of being reached.

    Hearings are taken by day, own starts before introductions, then by order of entry; the first
    that reaches a person counts, and never changes when one is added later. An introducer must
    have been reached before; chains entered on one day in the wrong order are taken as if the day
    were swept again until nothing changes. Own starts are wave 0, and so are those `outside` from
    the beginning. Who is told of only by somebody never reached is left out. O(m log m). Source:
    introductions.md 0.
    """
    return web(words, outside).reached


def _in_order(words: Iterable[Word]) -> list[Word]:
    """By day, the artist's own starts first, then in the order of entry."""
    return sorted(words, key=lambda w: (w.on, w.is_withheld or w.introducer != "", w.number))


def _sweep(
    heard: list[Word], outside: frozenset[str]
) -> tuple[dict[str, Word], list[tuple[int, Word]]]:
    """The hearing that reached each person, and all that reached nobody, by number."""
    first: dict[str, Word] = {}
    later: list[tuple[int, Word]] = []
    left: list[tuple[int, Word]] = []  # of one day: told of by somebody not reached yet
    for number, word in enumerate(heard):
        if left and left[0][1].on != word.on:
            later += _sweep_again(left, first)
            left = []
        told = word.introducer
        if word.person in first:
            later.append((number, word))
        elif told in first or not told or told in outside or word.is_withheld:
            first[word.person] = word
        else:
            left.append((number, word))
    return first, later + _sweep_again(left, first)


def _sweep_again(left: list[tuple[int, Word]], first: dict[str, Word]) -> list[tuple[int, Word]]:
    """Place what is left of one day as sweeping it again and again would; what reached nobody.

    A hearing is placed in the sweep in which its introducer was, if it comes after that hearing,
    else in the next one: a heap by sweep and number gives each of them once and in this order.
    """
    waiting: dict[str, list[tuple[int, Word]]] = defaultdict(list)
    ready: list[tuple[int, int, Word]] = []
    for number, word in left:
        if word.introducer in first:
            ready.append((1, number, word))
        else:
            waiting[word.introducer].append((number, word))
    while ready:
        sweep_number, number, word = heappop(ready)
        if word.person not in first:
            first[word.person] = word
            for other, next_word in waiting.pop(word.person, ()):
                heappush(ready, (sweep_number + (other < number), other, next_word))
    return [(number, word) for number, word in left if first.get(word.person) is not word]


def _later(word: Word, first: Mapping[str, Word], place_of: Mapping[str, int]) -> Kind:
    """Say what a hearing was that was not the first of its person.

    Whoever was not reached by the day of the hearing told us too early: a question, never guessed.
    Whoever was reached only after the person spoke for them. Source: introductions.md 0.
    """
    told = first.get(word.introducer)
    if word.is_withheld or (told is None and word.introducer in place_of):
        return Kind.FURTHER
    if told is None or told.on > word.on or word.introducer == word.person:
        return Kind.TOO_EARLY
    is_later = place_of[word.introducer] > place_of[word.person]
    return Kind.SPOKE_FOR if is_later else Kind.FURTHER


def _above(above: list[int], roads: list[tuple[int, int]]) -> list[int]:
    """Give, by place, the last one whom all roads to somebody pass.

    The dominator tree over first and further links from the artist; `above` comes in as the tree
    of the first, `roads` are the further ones as (to, from). All of them run from a lower to a
    higher place, so that one pass in this order is enough. Sources: Lengauer and Tarjan 1979;
    Cooper, Harvey and Kennedy 2001.
    """
    for place, other in sorted(roads):
        one = above[place]
        # Where two roads run together last: whoever was reached later goes back a step.
        while one != other:
            if one > other:
                one = above[one]
            else:
                other = above[other]
        above[place] = one
    return above


def told_of(reached: Mapping[str, Reached]) -> Counter[str]:
    """Count for each introducer the people whom they were the first to tell us of."""
    return Counter(one.first for one in reached.values() if one.first)


def came_of(reached: Mapping[str, Reached]) -> Counter[str]:
    """Count for each introducer all who came through them; `reached` in the order of `sweep`."""
    counts: Counter[str] = Counter()
    for person, one in reversed(list(reached.items())):
        if one.first:
            counts[one.first] += 1 + counts[person]
    return counts
