"""Whoever reads tables and works out what is hidden: exact, by trying every whole number.

It knows nothing of the rule that is tested; only which sums must come out.
"""

from collections.abc import Mapping, Sequence

Range = tuple[int, int]
# How often each cell counts, and the least and the most that they come to together.
Sum = tuple[Mapping[str, int], int, int]


def ranges(cells: Mapping[str, Range], sums: Sequence[Sum]) -> dict[str, Range]:
    """Give for each cell the least and the most of all tables in which every sum comes out.

    `cells` has for each the least and the most that it is from the beginning.
    """
    found = {}
    for name, (low, high) in cells.items():
        fits = [value for value in range(low, high + 1) if _fits({name: value}, cells, sums)]
        found[name] = (fits[0], fits[-1])
    return found


def _fits(said: dict[str, int], cells: Mapping[str, Range], sums: Sequence[Sum]) -> bool:
    """Whether the rest of the tables can be filled in."""
    now = {**cells, **{name: (value, value) for name, value in said.items()}}
    for weights, least, most in sums:
        ends = [sorted(weight * end for end in now[name]) for name, weight in weights.items()]
        if sum(low for low, _ in ends) > most or sum(high for _, high in ends) < least:
            return False
    rest = [name for name, (low, high) in now.items() if low != high]
    if not rest:
        return True
    low, high = cells[rest[0]]
    return any(_fits({**said, rest[0]: value}, cells, sums) for value in range(low, high + 1))
