"""How many people could be told apart on a map without names, by its shape alone."""

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

# Fewer than this who look alike hide nobody.
ENOUGH = 5


class Apart(NamedTuple):
    """Of the people on the map, those who look like nobody else, and those like fewer than five.

    `few` counts the `alone` in.
    """

    alone: int
    few: int


@dataclass(frozen=True, slots=True)
class Shapes:
    """Who can be told apart among `people`, by what the holder of the map sees or knows.

    `by_shape`: how many links a person has, and how many each of those beside them. `by_group`:
    besides, the mark of the person's group.
    """

    people: int
    by_shape: Apart
    by_group: Apart


def apart(ties: Mapping[str, Sequence[str]], groups: Mapping[str, str]) -> Shapes:
    """Count who can be told apart on a map without names.

    `ties` gives for each code those beside it (`Web.beside`), both ways; `groups` the group of
    each person on the map, and only they are counted. Source: introductions.md 4; Hay et al. 2008.
    """
    links = {code: len(beside) for code, beside in ties.items()}
    shapes: list[Hashable] = [
        # Of one link, the number at its other end is all the shape there is.
        links[near[0]] if len(near) == 1 else tuple(sorted([links[other] for other in near]))
        for near in [ties.get(code, ()) for code in groups]
    ]
    return Shapes(
        people=len(groups),
        by_shape=_apart(shapes),
        by_group=_apart(zip(shapes, groups.values(), strict=True)),
    )


def _apart(signs: Iterable[Hashable]) -> Apart:
    """Of people by what is seen of each."""
    sizes = list(Counter(signs).values())
    return Apart(sizes.count(1), sum([size for size in sizes if size < ENOUGH]))
