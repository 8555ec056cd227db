"""Whether what went out on a trip has come home: every blank is in one of five heaps."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from relations.consent.states import State


class Heap(StrEnum):
    """Where a blank that was signed out can end."""

    HOME = "home"  # filled in and brought home: being read, standing, or what became of it since
    LEFT = "left"  # with a sitter who wants time
    BLANK = "blank"  # brought back with nothing on it
    SPOILT = "spoilt"
    MISSING = "missing"


# Every other state is of a paper that is home with answers on it.
HEAPS: Mapping[State, Heap | None] = {
    **dict.fromkeys(State, Heap.HOME),
    State.PRINTED: None,
    State.CARRIED: None,
    State.FILLED_IN: None,  # answers are on it, and it lies in somebody's bag
    State.LEFT_WITH_THEM: Heap.LEFT,
    State.BROUGHT_BACK_BLANK: Heap.BLANK,
    State.SPOILT: Heap.SPOILT,
    State.MISSING: Heap.MISSING,
    State.WRITTEN_OFF: Heap.MISSING,
}


@dataclass(frozen=True, slots=True)
class Balance:
    """How many blanks went out, how many lie in each heap, and the serials that ask for a hand.

    `unsaid` are those of which nobody has said where they are; `missing` those to be looked for,
    without those that were looked for and written off.
    """

    printed: int
    heaps: Mapping[Heap, int]
    unsaid: tuple[str, ...]
    missing: tuple[str, ...]

    @property
    def is_balanced(self) -> bool:
        """Whether what was printed is what the heaps hold. A missing one balances, and alarms."""
        return self.printed == sum(self.heaps.values())


def balance(papers: Iterable[tuple[str, State]]) -> Balance:
    """Weigh the blanks of a trip, each a serial and its state; F10 of the job's own formulas.

    printed = standing or being read + left with them + brought back blank + spoilt + missing
    (common practice, no source).
    """
    found = sorted(papers)
    heaps = Counter(heap for _, state in found if (heap := HEAPS[state]) is not None)
    return Balance(
        printed=len(found),
        heaps={heap: heaps[heap] for heap in Heap},
        unsaid=tuple(serial for serial, state in found if HEAPS[state] is None),
        missing=tuple(serial for serial, state in found if state is State.MISSING),
    )
