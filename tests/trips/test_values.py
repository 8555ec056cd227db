"""What is counted on a trip stands in one table, and each heap of it belongs to a sum."""

from relations.trips.rules import SUMS
from relations.trips.values import COUNTS, Counted, How


def test_everything_but_blanks_is_counted_by_hand():
    assert set(COUNTS) == set(Counted) - {Counted.BLANKS}
    assert {how for hows in COUNTS.values() for how in hows} == set(How)


def test_every_heap_that_is_counted_stands_in_a_sum_and_no_other():
    for thing, hows in COUNTS.items():
        summed = {how for whole, parts in SUMS[thing] for how in (whole, *parts)}
        assert summed == set(hows)
