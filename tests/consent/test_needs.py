"""How many blanks, and in which order: the formulas F6 and F8 of the job."""

from collections import Counter
from fractions import Fraction
from math import ceil, floor

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.consent.needs import blanks, in_order, share

COUNTS = st.dictionaries(st.sampled_from("abcdefg"), st.integers(1, 40), min_size=1)


# job.md F6, the demo's trip T7.
@pytest.mark.parametrize(("expected", "wanted"), [(7, 10), (3, 4), (2, 3), (0, 0), (10, 13)])
def test_three_in_ten_more_than_people_expected(expected, wanted):
    assert blanks(expected) == wanted


@given(st.integers(0, 10_000))
def test_blanks_are_exact_where_binary_fractions_are_not(expected):
    assert blanks(expected) == ceil(Fraction(13, 10) * expected)


def test_order_of_need_begins_with_one_of_each_the_largest_need_first():
    order = in_order({"ar": 3, "fr": 10, "es": 4, "bn": 3})
    assert order[:4] == ["fr", "es", "ar", "bn"]
    assert Counter(order) == {"fr": 10, "es": 4, "ar": 3, "bn": 3}
    assert Counter(order[:10]) == {"fr": 4, "es": 2, "ar": 2, "bn": 2}


@given(COUNTS, st.floats(0, 1, exclude_min=True))
def test_every_beginning_of_a_cut_print_run_has_its_share_of_each_language(counts, cut):
    order = in_order(counts)
    assert Counter(order) == counts
    start = Counter(order[: ceil(cut * len(order))])
    last = order[start.total() - 1]
    reached = Fraction(start[last] - 1, counts[last])
    for lang, count in counts.items():
        assert ceil(count * reached) <= start[lang] <= floor(count * reached) + 1


def test_count_in_all_is_shared_out_by_the_people_expected():
    assert share(20, {"fr": 7, "es": 3, "bn": 2, "ar": 2}) == {"fr": 10, "es": 4, "bn": 3, "ar": 3}
    assert share(5, {"fr": 0, "ar": 0}) == {"fr": 3, "ar": 2}
    assert share(0, {"fr": 1}) == {"fr": 0}


@given(st.integers(0, 300), COUNTS)
def test_shares_add_up_and_none_is_more_than_one_off(total, weights):
    shares = share(total, weights)
    assert sum(shares.values()) == total
    whole = sum(weights.values())
    assert all(abs(shares[k] - Fraction(total * w, whole)) < 1 for k, w in weights.items())
