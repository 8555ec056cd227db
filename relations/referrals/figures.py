"""Figures that say how far a count may be trusted, and what an uneven one comes to."""

from collections.abc import Iterable
from math import sqrt

# Of the normal distribution, two-sided 95 %.
Z = 1.959963984540054


def wilson(successes: int, trials: int, z: float = Z) -> tuple[float, float]:
    """Give the interval of a share, 0 to 1; (0, 1) of no trials.

    Sources: Wilson 1927; Newcombe, Stat Med 17:857-872 (1998).
    """
    if not trials:
        return 0.0, 1.0
    share, square = successes / trials, z * z
    middle = share + square / (2 * trials)
    half = z * sqrt(share * (1 - share) / trials + square / (4 * trials * trials))
    whole = 1 + square / trials
    return max(0.0, (middle - half) / whole), min(1.0, (middle + half) / whole)


def effective(counts: Iterable[int]) -> float | None:
    """As many of equal count would be as uneven; None of nothing.

    The inverse of Simpson's sum of squares. Sources: Hill 1973; Jost 2006 (from memory).
    """
    kept = list(counts)
    total = sum(kept)
    return total * total / sum(count * count for count in kept) if total else None


def coleman(own: float, share: float) -> float:
    """How far like tells of like, -1 to 1; 0 where own people come as often as by chance.

    `own`: of whom a group told us, the share of its own. `share`: that of the group in everybody;
    one that is everybody can only tell of its own, which says nothing: 0. Source: Coleman 1958.
    """
    if own >= share:
        return (own - share) / (1 - share) if share < 1 else 0.0
    return (own - share) / share
