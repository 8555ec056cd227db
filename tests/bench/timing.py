"""Time two ways of doing the same thing in one run, so that the machine's speed cancels out."""

import gc
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Pair:
    """The best processor seconds seen for what is measured and for what it stands beside."""

    seconds: float
    beside: float

    @property
    def ratio(self) -> float:
        """How many times as long as its neighbour the measured one takes."""
        return self.seconds / self.beside


def best(act: Callable[[], object], *, rounds: int = 5) -> float:
    """The least processor seconds that `act` took in `rounds` runs, after one run to warm up."""
    act()
    return min(_once(act) for _ in range(rounds))


def side_by_side(
    act: Callable[[], object], other: Callable[[], object], *, rounds: int = 5
) -> Pair:
    """Both in turn, round by round, so that whatever slows the machine slows the two alike."""
    act(), other()
    seconds = [(_once(act), _once(other)) for _ in range(rounds)]
    return Pair(min(first for first, _ in seconds), min(second for _, second in seconds))


def _once(act: Callable[[], object]) -> float:
    collecting = gc.isenabled()
    gc.disable()
    try:
        start = time.process_time()
        act()
        return max(time.process_time() - start, 1e-9)
    finally:
        if collecting:
            gc.enable()


def drain(items: Iterable[object]) -> None:
    """Walk through `items` and keep nothing: the loop itself, without its work."""
    for _ in items:
        pass
