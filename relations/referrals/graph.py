"""Who first told us of whom: one sweep over all that was heard, in the order of hearing."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import groupby


@dataclass(frozen=True, slots=True)
class Word:
    """One hearing of a person, by codes.

    `introducer` is "" for the artist's own start. `wave` is given only where the link was erased
    and the wave alone was kept. `number` tells hearings of one day apart: the order of entry.
    """

    person: str
    introducer: str
    on: date
    number: int = 0
    wave: int | None = None
    is_withheld: bool = False


@dataclass(frozen=True, slots=True)
class Reached:
    """How a person was first reached: the day, through whom ("" nobody of ours), how far out."""

    on: date
    first: str
    wave: int
    is_withheld: bool = False


def sweep(words: Iterable[Word], outside: Iterable[str] = ()) -> dict[str, Reached]:
    """Give for each person how they were first reached, in the order of being reached.

    Hearings are taken by day, own starts before introductions, then by order of entry; the first
    that reaches a person counts, and never changes when one is added later. An introducer must
    have been reached before; chains entered on one day in the wrong order are swept again until
    nothing changes. Own starts are wave 0, and so are those `outside` from the beginning.
    Who is told of only by somebody never reached is left out. O(m log m) but for days on which
    everything was entered backwards. Source: introductions.md 0.
    """
    reached: dict[str, Reached] = {}
    waves = dict.fromkeys(outside, 0)
    in_order = sorted(words, key=lambda word: (word.on, bool(word.introducer), word.number))
    for _, of_one_day in groupby(in_order, key=lambda word: word.on):
        waiting = list(of_one_day)
        while waiting:
            left = [word for word in waiting if not _reach(word, reached, waves)]
            if len(left) == len(waiting):
                break
            waiting = left
    return reached


def _reach(word: Word, reached: dict[str, Reached], waves: dict[str, int]) -> bool:
    """Say whether a hearing could be placed; it counts only for somebody not reached yet."""
    if word.person in reached:
        return True
    if word.is_withheld:
        wave = word.wave or 0
    elif not word.introducer:
        wave = 0
    elif word.introducer in waves:
        wave = waves[word.introducer] + 1
    else:
        return False
    waves[word.person] = wave
    reached[word.person] = Reached(word.on, word.introducer, wave, word.is_withheld)
    return True


def told_of(reached: dict[str, Reached]) -> Counter[str]:
    """Count for each introducer the people whom they were the first to tell us of."""
    return Counter(one.first for one in reached.values() if one.first)


def came_of(reached: dict[str, Reached]) -> Counter[str]:
    """Count for each introducer everybody who came through them and those they told us of.

    `reached` is in the order of `sweep`: whoever told comes before whoever was told of.
    """
    counts: Counter[str] = Counter()
    for person, one in reversed(reached.items()):
        if one.first:
            counts[one.first] += 1 + counts[person]
    return counts
