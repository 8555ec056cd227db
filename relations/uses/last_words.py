"""Last words (F12): how few talks, between which days, before all that is planned is shown.

Plain values in, plain values out.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date

from relations.people.rules import counted
from relations.people.values import Risk

GRAVEST = (Risk.GRAVE, Risk.RAISED, Risk.ORDINARY)


@dataclass(frozen=True)
class Need:
    """That a plan waits for a word with one person: from the day it counts, before the start.

    `pictures` wait for it; of those `frees` wait for nothing else. `stops`: they may not be shown
    without it. `of_speaker`: the word is of the one who speaks for them.
    """

    person: str
    plan: str
    opens_on: date
    before: date
    risk: Risk | None = None
    pictures: tuple[str, ...] = ()
    frees: tuple[str, ...] = ()
    stops: bool = False
    of_speaker: bool = False


@dataclass(frozen=True)
class Talk:
    """One talk with one person on any day from `from_on` until the one before `before`."""

    person: str
    from_on: date
    before: date
    needs: tuple[Need, ...] = field(default=())

    @property
    def frees(self) -> tuple[str, ...]:
        """The pictures that this talk alone sets free in some plan, each once."""
        return tuple(sorted({code for need in self.needs for code in need.frees}))

    @property
    def pictures(self) -> tuple[str, ...]:
        """The pictures that wait for it, each once."""
        return tuple(sorted({code for need in self.needs for code in need.pictures}))

    @property
    def first(self) -> Need:
        """The need whose days begin first: before `from_on` a talk serves it, and not all."""
        return min(self.needs, key=lambda need: (need.opens_on, need.before))

    @property
    def stops(self) -> bool:
        """Whether something may not be shown without it."""
        return any(need.stops for need in self.needs)

    @property
    def of_speaker(self) -> bool:
        """Whether it is held with the one who speaks for them."""
        return any(need.of_speaker for need in self.needs)


def talks(needs: Iterable[Need], today: date) -> tuple[Talk, ...]:
    """Give the fewest talks that serve every need, in the order of the calendar.

    One talk serves all plans whose windows share a day, so that nobody is asked twice: windows
    are met from the first that closes (the fewest points that meet all intervals). A need whose
    start has come is left out. Order: the day before which, the day from which, the gravest
    first, then what frees most and what most waits for, then the code.
    """
    by_person: dict[str, list[Need]] = defaultdict(list)
    for need in needs:
        if need.before > today:
            by_person[need.person].append(need)
    found = [talk for own in by_person.values() for talk in _fewest(own, today)]
    return tuple(sorted(found, key=_order))


def _fewest(needs: Sequence[Need], today: date) -> list[Talk]:
    """The talks of one person."""
    found: list[list[Need]] = []
    for need in sorted(needs, key=lambda one: (one.before, one.plan)):
        # The first of a talk closes first: what opens before that shares a day with all of it.
        if found and need.opens_on < found[-1][0].before:
            found[-1].append(need)
        else:
            found.append([need])
    return [
        Talk(
            own[0].person,
            max(today, *(need.opens_on for need in own)),
            own[0].before,
            tuple(own),
        )
        for own in found
    ]


def _order(talk: Talk) -> tuple[date, date, int, int, int, str]:
    gravest = min(GRAVEST.index(counted(need.risk)) for need in talk.needs)
    return (
        talk.before,
        talk.from_on,
        gravest,
        -len(talk.frees),
        -len(talk.pictures),
        talk.person,
    )
