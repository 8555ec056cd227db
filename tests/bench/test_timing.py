"""The clock of the measurements tells longer from shorter."""

import time

from tests.bench.timing import best, drain, side_by_side, turn_by_turn


def test_ten_times_the_work_takes_several_times_as_long(figure):
    pair = side_by_side(lambda: drain(range(2_000_000)), lambda: drain(range(200_000)))
    figure("ten times a loop beside the loop", pair.ratio, bar="5 to 20")
    assert 5 <= pair.ratio <= 20


def test_best_is_never_nothing():
    assert best(lambda: None, rounds=2) > 0


def test_waiting_counts_on_the_wall_and_not_for_the_processor():
    def wait():
        time.sleep(0.002)

    assert turn_by_turn(wait, lambda: None, times=20).seconds >= 0.002
    worked = turn_by_turn(wait, lambda: None, times=20, clock=time.process_time)
    assert worked.seconds < 0.001
