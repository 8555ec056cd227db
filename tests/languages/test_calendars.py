"""Intervals of days in which something can have happened."""

from datetime import date

import pytest

from relations.languages.calendars import FutureDayError, Interval

YEAR = Interval(date(2008, 1, 1), date(2008, 12, 31))


def test_an_interval_of_one_day_is_exact() -> None:
    assert Interval(date(2008, 3, 5), date(2008, 3, 5)).is_exact
    assert not YEAR.is_exact


def test_an_interval_cannot_end_before_it_begins() -> None:
    with pytest.raises(ValueError, match="before it begins"):
        Interval(date(2008, 1, 2), date(2008, 1, 1))


def test_what_runs_past_a_day_ends_on_it_and_what_is_wholly_past_stays_whole() -> None:
    assert YEAR.until(date(2008, 6, 1)) == Interval(date(2008, 1, 1), date(2008, 6, 1))
    assert YEAR.until(date(2008, 1, 1)).is_exact
    assert YEAR.until(date(2026, 11, 23)) == YEAR


def test_what_has_not_begun_is_the_future() -> None:
    with pytest.raises(FutureDayError):
        YEAR.until(date(2007, 12, 31))


def test_an_interval_is_widened_at_both_ends() -> None:
    assert YEAR.widened(2) == Interval(date(2007, 12, 30), date(2009, 1, 2))
    assert YEAR.widened(0) == YEAR
