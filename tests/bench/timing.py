"""Time two ways of doing the same thing in one run, so that the machine's speed cancels out."""

import gc
import statistics
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass

_share = 1.0


def use_fewer_rounds() -> None:
    """From here on half of the rounds that are asked for, two at least: quicker, and less sure."""
    global _share
    _share = 0.5


def _rounds(asked: int) -> int:
    return asked if asked <= 2 else max(2, round(asked * _share))


@dataclass(frozen=True)
class Pair:
    """The seconds of what is measured and of what it stands beside."""

    seconds: float
    beside: float

    @property
    def ratio(self) -> float:
        """How many times as long as its neighbour the measured one takes."""
        return self.seconds / self.beside


def best(act: Callable[[], object], *, rounds: int = 5) -> float:
    """The least processor seconds that `act` took in `rounds` runs, after one run to warm up."""
    act()
    return min(_once(act) for _ in range(_rounds(rounds)))


def side_by_side(
    act: Callable[[], object], other: Callable[[], object], *, rounds: int = 5
) -> Pair:
    """The least processor seconds of each, in turn, so that a slow machine slows the two alike."""
    act(), other()
    seconds = [(_once(act), _once(other)) for _ in range(_rounds(rounds))]
    return Pair(min(first for first, _ in seconds), min(second for _, second in seconds))


def turn_by_turn(
    act: Callable[[], object],
    other: Callable[[], object],
    *,
    times: int = 400,
    clock: Callable[[], float] = time.perf_counter,
) -> Pair:
    """The median of each, every run of one followed by one of the other.

    For what waits for the disk: seconds on the wall, which other work on the machine lengthens for
    both alike.
    """
    act(), other()
    seconds = [(_once(act, clock), _once(other, clock)) for _ in range(_rounds(times))]
    first, second = zip(*seconds, strict=True)
    return Pair(statistics.median(first), statistics.median(second))


def _once(act: Callable[[], object], clock: Callable[[], float] = time.process_time) -> float:
    collecting = gc.isenabled()
    gc.disable()
    try:
        start = clock()
        act()
        return max(clock() - start, 1e-9)
    finally:
        if collecting:
            gc.enable()


def drain(items: Iterable[object]) -> None:
    """Walk through `items` and keep nothing: the loop itself, without its work."""
    for _ in items:
        pass
