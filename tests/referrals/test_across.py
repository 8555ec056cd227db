"""Places from left to right: every label finds room, nobody stands left of who told of them."""

from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as some

from relations.referrals import graph
from relations.referrals.across import across, axis
from relations.referrals.drawing import CODES, NAMES
from relations.referrals.geometry import Size
from relations.referrals.graph import Word
from relations.referrals.rows import Row, in_rows
from tests.referrals.grown import words

DAY = date(2024, 1, 1)


def chain(days: list[int]) -> list[Row]:
    heard = [Word(f"{n}", f"{n - 1}" if n else "", DAY + timedelta(on), n)
             for n, on in enumerate(days)]  # fmt: skip
    return in_rows(graph.web(heard))


def room(size: Size) -> float:
    return size.left + 2.5 * size.mark + 4


def test_the_last_day_comes_as_far_right_as_its_label_lets_it() -> None:
    found = across(chain([0, 100, 200]), [20, 20, 30], CODES)
    assert found.width == CODES.width
    assert found.x[0] == CODES.left
    assert found.x[2] == pytest.approx(CODES.width - 2.5 * CODES.mark - 4 - 30)
    assert found.x[1] == pytest.approx((found.x[0] + found.x[2]) / 2)


def test_somebody_of_the_same_day_stands_a_little_right_of_who_told_of_them() -> None:
    found = across(chain([0, 0, 0, 900]), [20] * 4, CODES)
    assert [found.x[1] - found.x[0], found.x[2] - found.x[1]] == [CODES.nudge] * 2


def test_a_chain_at_the_end_presses_the_days_together() -> None:
    days = [0, 900, *range(901, 911)]
    found = across(chain(days), [20] * len(days), CODES)
    assert found.width == CODES.width
    assert found.x[-1] == pytest.approx(CODES.width - 2.5 * CODES.mark - 4 - 20)
    assert found.x[-1] - found.x[1] == pytest.approx(10 * CODES.nudge)


def test_a_chain_too_long_for_its_days_makes_the_whole_wider() -> None:
    found = across(chain([0] * 80), [20] * 80, CODES)
    assert found.x[-1] == pytest.approx(CODES.left + 79 * CODES.nudge)
    assert found.width == pytest.approx(found.x[-1] + 2.5 * CODES.mark + 4 + 20)


def test_a_label_wider_than_all_makes_the_whole_wider() -> None:
    found = across(chain([0, 10]), [20, 900], CODES)
    assert found.width >= room(CODES) + 900
    assert found.scale == 0


def test_nobody_takes_no_place() -> None:
    assert across([], [], CODES).width == CODES.width


@given(some.integers(1, 150), some.integers(0, 999), some.sampled_from([CODES, NAMES]))
def test_every_label_fits_and_nobody_stands_left_of_who_told_of_them(
    people: int, seed: int, size: Size
) -> None:
    rows = in_rows(graph.web(words(people, seed), ("X1", "X2")))
    needs = [float(10 + 7 * (number % 9)) for number in range(len(rows))]
    found = across(rows, needs, size)
    for row, x, need in zip(rows, found.x, needs, strict=True):
        assert x + room(size) - size.left + need <= found.width + 0.1
        assert x >= found.of(row.on, size) - 0.001
        assert row.above < 0 or x >= found.x[row.above] + size.nudge - 0.001


def test_the_axis_has_first_days_of_years_and_quarters_and_counts_of_months() -> None:
    rows = chain([0, 20, 40, 400, 800])
    found = across(rows, [20] * 5, NAMES)
    ticks, months = axis([row.on for row in rows], found, NAMES)
    assert [tick.on for tick in ticks if tick.is_year] == [
        date(2024, 1, 1), date(2025, 1, 1), date(2026, 1, 1),
    ]  # fmt: skip
    assert date(2025, 4, 1) in [tick.on for tick in ticks if tick.is_said]
    assert [month.count for month in months] == [2, 1, 1, 1]
    assert all(month.x >= NAMES.left for month in months)


def test_quarters_bear_no_words_where_there_is_no_room_and_years_only_some() -> None:
    rows = chain([0, 365 * 30])
    found = across(rows, [20, 20], CODES)
    ticks, _ = axis([row.on for row in rows], found, CODES)
    said = [tick.x for tick in ticks if tick.is_said]
    assert all(tick.is_year for tick in ticks if tick.is_said)
    assert 2 < len(said) < 10
    assert min(b - a for a, b in pairwise(said)) >= 2 * CODES.type


def test_within_one_quarter_the_year_stands_at_the_first_day() -> None:
    rows = chain([40, 50])
    ticks, _ = axis([row.on for row in rows], across(rows, [20, 20], CODES), CODES)
    assert [(tick.x, tick.on, tick.is_said) for tick in ticks] == [
        (CODES.left, DAY + timedelta(40), True)
    ]


def test_nobody_has_no_axis() -> None:
    assert axis([], across([], [], CODES), CODES) == ([], [])
