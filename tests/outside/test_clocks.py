"""The month in which a person is answered and the 72 hours of an alarm, against published examples.

[T]: read in the text of the named source; [P]: computed with dateutil or zoneinfo; [H]: by hand.
"""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.rights.rules import LONGEST_MONTHS, deadline, due_on

DAYS = st.dates(date(2000, 1, 1), date(2100, 12, 31))


@pytest.mark.parametrize(
    ("asked", "due"),
    [
        # [T] examples of the UK regulator's guidance of 2019, as third-party pages quote them.
        ("2025-09-03", "2025-10-03"),
        ("2025-01-31", "2025-02-28"),
        ("2024-01-31", "2024-02-29"),
        ("2025-08-31", "2025-09-30"),
        ("2025-01-30", "2025-02-28"),
        ("2025-08-01", "2025-09-01"),  # at 23:59: the hour does not matter
        ("2025-09-21", "2025-10-21"),
        # [P] dateutil: before any rolling past a day off.
        ("2025-11-25", "2025-12-25"),
        ("2024-01-29", "2024-02-29"),
        ("2024-01-30", "2024-02-29"),
        ("2026-01-29", "2026-02-28"),
        ("2024-02-29", "2024-03-29"),
        ("2026-10-31", "2026-11-30"),
        ("2026-12-01", "2027-01-01"),
        ("2026-12-31", "2027-01-31"),
        ("2024-01-31", "2024-02-29"),
        ("2026-01-31", "2026-02-28"),  # a Saturday, and Sundays, feasts and 1 January below
        ("2023-08-31", "2023-09-30"),
        ("2026-03-05", "2026-04-05"),
        ("2026-04-01", "2026-05-01"),
        ("2026-08-31", "2026-09-30"),
        ("2026-11-30", "2026-12-30"),
    ],
)
def test_an_answer_is_due_a_month_after_it_was_asked_for(asked: str, due: str) -> None:
    assert due_on(date.fromisoformat(asked)) == date.fromisoformat(due)


@pytest.mark.parametrize(
    ("asked", "due"),
    [
        # [P] dateutil: three months in all where it is hard (GDPR 12(3), [T] Irish DPC).
        ("2025-11-25", "2026-02-25"),
        ("2024-01-29", "2024-04-29"),
        ("2024-01-30", "2024-04-30"),
        ("2024-01-31", "2024-04-30"),
        ("2026-01-29", "2026-04-29"),
        ("2026-01-31", "2026-04-30"),
        ("2023-08-31", "2023-11-30"),
        ("2024-02-29", "2024-05-29"),
        ("2026-03-05", "2026-06-05"),
        ("2026-04-01", "2026-07-01"),
        ("2026-08-31", "2026-11-30"),
        ("2026-12-01", "2027-03-01"),
        ("2026-10-31", "2027-01-31"),
        ("2026-11-30", "2027-02-28"),
        ("2026-12-31", "2027-03-31"),
    ],
)
def test_the_longest_answer_takes_three_months_in_all(asked: str, due: str) -> None:
    assert due_on(date.fromisoformat(asked), LONGEST_MONTHS) == date.fromisoformat(due)


@given(DAYS)
def test_a_month_is_28_to_31_days_and_ends_on_its_day_or_the_months_last(asked: date) -> None:
    due = due_on(asked)
    assert timedelta(28) <= due - asked <= timedelta(31)
    assert due.day == asked.day or (due + timedelta(1)).day == 1


@given(DAYS, DAYS)
def test_who_asks_later_is_never_answered_earlier(one: date, other: date) -> None:
    assert due_on(min(one, other)) <= due_on(max(one, other))


@given(DAYS)
def test_twelve_months_counted_one_by_one_from_one_day_keep_its_day(asked: date) -> None:
    for months in range(1, 13):
        due = due_on(asked, months)
        is_last = (due + timedelta(1)).day == 1
        assert due.day == asked.day or (is_last and due.day < asked.day)
        months_on = (due.year - asked.year) * 12 + due.month - asked.month
        assert months_on == months


@given(DAYS)
def test_28_days_always_fit_and_three_months_are_longer_than_one(asked: date) -> None:
    # [T] the regulator's fallback; GDPR 12(3): two further months.
    assert asked + timedelta(28) <= due_on(asked) < due_on(asked, LONGEST_MONTHS)


@pytest.mark.parametrize(
    ("event", "end"),
    [
        # [H] consent that ends after months, checks.md 2.3.
        (("2024-02-29", 12), "2025-02-28"),
        (("2024-02-29", 48), "2028-02-29"),
        (("2026-08-31", 6), "2027-02-28"),
    ],
)
def test_longer_periods_end_by_the_same_rule(event: tuple[str, int], end: str) -> None:
    day, months = event
    assert due_on(date.fromisoformat(day), months) == date.fromisoformat(end)


@given(DAYS)
def test_months_from_one_day_never_drift(asked: date) -> None:
    # [H] 31 January + 1 month + 1 month is 28 March; + 2 months is 31 March.
    expected = date(asked.year + 1, asked.month, asked.day) if _is_there(asked) else None
    assert due_on(asked, 12) == (expected or date(asked.year + 1, 2, 28))


def _is_there(day: date) -> bool:
    return (day.month, day.day) != (2, 29)


@pytest.mark.parametrize(
    ("zone", "known", "until"),
    [
        # [P] zoneinfo: hours that pass, also across a clock change, weekends inside.
        ("Europe/Paris", "2026-03-27 17:00", "2026-03-30 18:00"),
        ("Europe/Paris", "2026-10-23 17:00", "2026-10-26 16:00"),
        ("America/Toronto", "2026-03-06 20:30", "2026-03-09 21:30"),
        ("UTC", "2024-02-27 10:15", "2024-03-01 10:15"),
        ("Asia/Kathmandu", "2026-12-30 23:59", "2027-01-02 23:59"),
    ],
)
def test_an_alarm_runs_for_72_hours_that_pass(zone: str, known: str, until: str) -> None:
    at = datetime.fromisoformat(known).replace(tzinfo=ZoneInfo(zone))
    due = deadline(at)
    assert due.tzinfo is UTC
    assert f"{due.astimezone(ZoneInfo(zone)):%Y-%m-%d %H:%M}" == until
