"""Which talks free which pictures: the fewest talks, and the most that a few of them can free.

A picture is freed when all that stands against it is settled. Which few talks free most pictures
is a hard question once many share their pictures; here it is answered exactly for circles of up
to `EXACT` talks, and beyond that with a bound beside it: the answer says how far it may be off.
"""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import NamedTuple

from relations.consent.answers import NEXT_ACTION, Answer, Code, NextAction

# With how many talks a circle of pictures is still searched through: 2 ** 12 sets of talks.
EXACT = 12
# How many rungs of the ladder are worked out; a page shows the first few.
RUNGS = 9
# To be spoken with is all that these ask for.
SPOKEN_WITH = frozenset({Code.CHECK_IN})
WITH_THEM = frozenset({NextAction.TALK, NextAction.SHOW_OR_READ})
SETTLED_BY_TALK = frozenset(
    code
    for code, action in NEXT_ACTION.items()
    if action in WITH_THEM or action is NextAction.ASK_WHO_MAY_ANSWER
)


class Talk(NamedTuple):
    """One talk: about whom, and whether it is with those who may answer for them."""

    about: str
    is_with_others: bool = False


Needs = Mapping[str, frozenset[Talk]]


@dataclass(frozen=True, slots=True)
class Rung:
    """So many talks, what they free, and the most that as many could free whichever they are."""

    talks: tuple[Talk, ...]
    frees: tuple[str, ...]
    at_most: int

    @property
    def is_exact(self) -> bool:
        """Whether it is known that as many talks cannot free more."""
        return len(self.frees) == self.at_most


@dataclass(frozen=True, slots=True)
class Ladder:
    """The best single talk, the best two …, each where it frees more; and all that are needed."""

    rungs: tuple[Rung, ...]
    whole: Rung


def needs(answers: Mapping[str, Answer], settled: Collection[Code] = SETTLED_BY_TALK) -> Needs:
    """Give the talks that each picture waits for, where nothing but talks stands against it.

    `answers` by picture; `settled` are the codes that a talk can settle. A picture against which
    anything else stands, or something about the picture itself, waits for no talk.
    """
    return {
        picture: frozenset(
            Talk(one.about, NEXT_ACTION[one.code] is NextAction.ASK_WHO_MAY_ANSWER)
            for one in answer.stops
        )
        for picture, answer in answers.items()
        if answer.stops
        and all(one.code in settled and one.about != picture for one in answer.stops)
    }


def ladder(waiting: Needs) -> Ladder:
    """Give what the best talk frees, the best two … up to `RUNGS`, and what all of them free.

    All talks together free every picture that waits, and no fewer do: each picture needs every
    talk of its own. Ties go to the talks whose codes come first.
    """
    best, bounds = _together(_circle(some) for some in circles(waiting))
    rungs: list[Rung] = []
    for count in range(1, len(best)):
        talks, frees = best[count]
        if len(frees) > (len(rungs[-1].frees) if rungs else 0):
            rungs.append(Rung(tuple(sorted(talks)), tuple(sorted(frees)), bounds[len(talks)]))
    every = sorted({talk for some in waiting.values() for talk in some})
    return Ladder(tuple(rungs), Rung(tuple(every), tuple(sorted(waiting)), len(waiting)))


def circles(waiting: Needs) -> list[dict[str, frozenset[Talk]]]:
    """Part pictures so that those of two parts wait for no talk in common; by code."""
    of: dict[Talk, list[str]] = defaultdict(list)
    for picture, talks in waiting.items():
        for talk in talks:
            of[talk].append(picture)
    found, seen = [], set[str]()
    for picture in sorted(waiting):
        circle, ahead = {}, [picture]
        while ahead:
            one = ahead.pop()
            if one not in seen:
                seen.add(one)
                circle[one] = waiting[one]
                ahead += [other for talk in waiting[one] for other in of[talk]]
        if circle:
            found.append(circle)
    return found


class Best(NamedTuple):
    """Talks, and the pictures they free."""

    talks: tuple[Talk, ...] = ()
    frees: tuple[str, ...] = ()


class Reached(NamedTuple):
    """By number of talks, from none: the best that was found, and the most there can be."""

    best: list[Best]
    bounds: list[int]


def _circle(waiting: Needs) -> Reached:
    talks = sorted({talk for some in waiting.values() for talk in some})
    return _searched(waiting, talks) if len(talks) <= EXACT else _picked(waiting, talks)


def _searched(waiting: Needs, talks: list[Talk]) -> Reached:
    """Try every set of talks of each size: what is found is the most."""
    best = [Best()]
    for count in range(1, min(len(talks), RUNGS) + 1):
        frees = {some: _freed(waiting, some) for some in combinations(talks, count)}
        most = max(frees, key=lambda some: len(frees[some]))
        best.append(Best(most, frees[most]))
    return Reached(best, [len(one.frees) for one in best])


def _picked(waiting: Needs, talks: list[Talk]) -> Reached:
    """Pick the picture that costs the fewest further talks for what they free, again and again.

    The bound: a picture that waits for n talks gives each of them 1/n; freed, it has given 1, so
    no set of talks frees more than its talks were given.
    """
    given: dict[Talk, float] = defaultdict(float)
    for some in waiting.values():
        for talk in some:
            given[talk] += 1 / len(some)
    shares = sorted(given.values(), reverse=True)
    bounds = [min(int(sum(shares[:count]) + 1e-9), len(waiting)) for count in range(RUNGS + 1)]
    best = [Best()] * (RUNGS + 1)
    chosen: frozenset[Talk] = frozenset()
    while more := _next(waiting, chosen):
        chosen |= more
        reached = Best(tuple(sorted(chosen)), _freed(waiting, chosen))
        best[len(chosen) :] = [reached] * (RUNGS + 1 - len(chosen))
    return Reached(_or_single(waiting, talks, best), bounds)


def _or_single(waiting: Needs, talks: list[Talk], best: list[Best]) -> list[Best]:
    """The best single talk is always known, also where the first pick took several."""
    frees = {talk: _freed(waiting, [talk]) for talk in talks}
    most = max(talks, key=lambda talk: len(frees[talk]))
    single = Best((most,), frees[most])
    return [
        single if count and len(single.frees) > len(one.frees) else one
        for count, one in enumerate(best)
    ]


def _next(waiting: Needs, chosen: frozenset[Talk]) -> frozenset[Talk]:
    """The talks of the waiting picture that free most for each further talk; none at the end."""
    ahead = Counter(talks - chosen for talks in waiting.values())
    few = [more for more in ahead if 0 < len(more) <= RUNGS - len(chosen)]
    return max(
        few,
        key=lambda more: (_gain(ahead, more) / len(more), -len(more)),
        default=frozenset(),
    )


def _gain(ahead: Counter[frozenset[Talk]], talks: frozenset[Talk]) -> int:
    """How many pictures wait for some of these talks and no other."""
    return sum(
        ahead[frozenset(some)]
        for count in range(1, len(talks) + 1)
        for some in combinations(talks, count)
    )


def _freed(waiting: Needs, talks: Iterable[Talk]) -> tuple[str, ...]:
    had = frozenset(talks)
    return tuple(picture for picture, some in waiting.items() if some <= had)


def _together(parts: Iterator[Reached]) -> Reached:
    """The best over all circles: talks of one free nothing in another."""
    whole = Reached([Best()], [0])
    for part in parts:
        best, bounds = [], []
        for count in range(min(len(whole.best) + len(part.best) - 2, RUNGS) + 1):
            ways = [
                (count - here, here)
                for here in range(len(part.best))
                if 0 <= count - here < len(whole.best)
            ]
            best.append(
                max(
                    (_joined(whole.best[there], part.best[here]) for there, here in ways),
                    key=lambda one: len(one.frees),
                )
            )
            bounds.append(max(whole.bounds[there] + part.bounds[here] for there, here in ways))
        whole = Reached(best, bounds)
    return whole


def _joined(one: Best, other: Best) -> Best:
    return Best(one.talks + other.talks, one.frees + other.frees)
