"""The clock of the measurements tells longer from shorter."""

from tests.bench.timing import best, drain, side_by_side


def test_ten_times_the_work_takes_several_times_as_long(figure):
    pair = side_by_side(lambda: drain(range(2_000_000)), lambda: drain(range(200_000)))
    figure("ten times a loop beside the loop", pair.ratio, bar="5 to 20")
    assert 5 <= pair.ratio <= 20


def test_best_is_never_nothing():
    assert best(lambda: None, rounds=2) > 0
