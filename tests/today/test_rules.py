"""When the clock of a telephone is believed, and what it most likely meant."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from relations.today.rules import SLACK, doubts, likely

NOON = datetime(2026, 11, 23, 12, 0, tzinfo=ZoneInfo("Europe/Rome"))
HOUR, DAY = timedelta(hours=1), timedelta(days=1)


def said(**other):
    usual = {"written_at": NOON - HOUR, "known_at": NOON - 3 * HOUR, "phone_at": NOON}
    return doubts(**{**usual, "received_at": NOON, **other})


def test_clock_that_agrees_is_believed():
    assert said() == said(known_at=None) == said(phone_at=NOON + SLACK) == ()


@pytest.mark.parametrize("off", [DAY, -DAY, SLACK + timedelta(seconds=1), -366 * DAY])
def test_clock_that_is_wrong_while_it_sends_is_noticed(off):
    assert "wrong_now" in said(phone_at=NOON + off, written_at=NOON + off - HOUR)


def test_clock_that_was_put_right_since_is_noticed():
    assert said(written_at=NOON + DAY - HOUR) == ("written_later",)
    assert said(written_at=NOON - DAY) == ("written_before",)


def test_time_that_is_missing_is_a_doubt():
    assert said(written_at=None) == said(phone_at=None) == ("no_time",)


def test_day_of_a_wrong_clock_is_moved_by_as_much_as_it_was_wrong():
    behind = NOON - DAY
    assert likely(behind - 2 * HOUR, behind - HOUR, behind, NOON) == NOON - 2 * HOUR


def test_day_that_somebody_chose_stays():
    behind = NOON - DAY
    assert likely(NOON - HOUR, behind - HOUR, behind, NOON) == NOON - HOUR


def test_nothing_happened_later_than_it_came():
    behind = NOON - DAY
    assert likely(behind + HOUR, behind, behind, NOON) == NOON
