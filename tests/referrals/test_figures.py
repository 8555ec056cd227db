"""Intervals, effective numbers and the index of like by like, where they have no answer."""

from hypothesis import given
from hypothesis import strategies as some

from relations.referrals.figures import coleman, effective, wilson

SHARES = some.floats(0, 1)


def test_of_no_trials_any_share_may_be_true() -> None:
    assert wilson(0, 0) == (0, 1)


@given(some.integers(1, 500), some.data())
def test_an_interval_holds_the_share_it_was_seen_at(trials: int, data: some.DataObject) -> None:
    successes = data.draw(some.integers(0, trials))
    low, high = wilson(successes, trials)
    assert 0 <= low <= successes / trials + 1e-12
    assert successes / trials - 1e-12 <= high <= 1
    more_low, more_high = wilson(successes * 4, trials * 4)
    assert more_high - more_low < high - low


def test_nothing_counts_like_no_number() -> None:
    assert effective([]) is None
    assert effective([0, 0]) is None


@given(some.lists(some.integers(1, 99), min_size=1))
def test_an_uneven_count_counts_like_fewer(counts: list[int]) -> None:
    like = effective(counts)
    assert like is not None
    assert 1 - 1e-9 <= like <= len(counts) + 1e-9


def test_a_group_that_is_everybody_tells_of_its_own_by_chance() -> None:
    assert coleman(1, 1) == 0


@given(SHARES, some.floats(0.01, 1))
def test_index_is_between_never_and_only_of_its_own(own: float, share: float) -> None:
    assert -1 <= coleman(own, share) <= 1
