"""Safe hours by two clocks: on ordinary days, and on both days on which a clock changes."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.meetings.hours import Clock, Span, next_shared, shared
from relations.meetings.rules import is_decent, next_ring
from relations.meetings.values import Outcome, SafeTimes, Window

ROME = ZoneInfo("Europe/Rome")
DAYTIME = SafeTimes((Window(time(8), time(20)),))
# In 2026 Rome goes to summer time on 29 March and back on 25 October (EU directive 2000/84/EC:
# the last Sundays, 01:00 UTC).
FORWARD, BACK = date(2026, 3, 29), date(2026, 10, 25)


def hours(day: date, zone: str, *, ours: str = "Europe/Rome") -> list[str]:
    """The hours of our day that are safe by both clocks, 08 to 20 by each, as we read them."""
    found = shared(day, Clock(ZoneInfo(ours), DAYTIME), Clock(ZoneInfo(zone), DAYTIME))
    return [f"{span.begin:%H:%M}-{span.end:%H:%M}" for span in found]


# Worked by hand from the offsets of each zone: Rome +1, in summer +2; Kathmandu +5:45 always; New
# York -5, from 8 March to 1 November -4; Casablanca +1, but +0 in Ramadan (15 February to 22 March
# 2026, tzdata); Santiago -3, from 5 April to 6 September -4.
@pytest.mark.parametrize(
    ("zone", "day", "expected"),
    [
        ("Asia/Kathmandu", date(2026, 3, 28), ["08:00-15:15"]),
        ("Asia/Kathmandu", FORWARD, ["08:00-16:15"]),
        ("Asia/Kathmandu", date(2026, 10, 24), ["08:00-16:15"]),
        ("Asia/Kathmandu", BACK, ["08:00-15:15"]),
        ("America/New_York", date(2026, 3, 7), ["14:00-20:00"]),
        # Three weeks in which New York has changed and Rome has not.
        ("America/New_York", date(2026, 3, 9), ["13:00-20:00"]),
        ("America/New_York", date(2026, 3, 28), ["13:00-20:00"]),
        ("America/New_York", FORWARD, ["14:00-20:00"]),
        ("America/New_York", date(2026, 10, 24), ["14:00-20:00"]),
        # One week in which Rome has, and New York has not.
        ("America/New_York", BACK, ["13:00-20:00"]),
        ("America/New_York", date(2026, 10, 31), ["13:00-20:00"]),
        ("America/New_York", date(2026, 11, 2), ["14:00-20:00"]),
        ("Africa/Casablanca", date(2026, 2, 25), ["09:00-20:00"]),
        ("Africa/Casablanca", date(2026, 3, 28), ["08:00-20:00"]),
        ("Africa/Casablanca", FORWARD, ["09:00-20:00"]),
        ("Africa/Casablanca", date(2026, 10, 24), ["09:00-20:00"]),
        ("Africa/Casablanca", BACK, ["08:00-20:00"]),
        ("America/Santiago", date(2026, 3, 28), ["12:00-20:00"]),
        ("America/Santiago", FORWARD, ["13:00-20:00"]),
        ("America/Santiago", date(2026, 4, 6), ["14:00-20:00"]),
        ("America/Santiago", date(2026, 10, 24), ["13:00-20:00"]),
        ("America/Santiago", BACK, ["12:00-20:00"]),
    ],
)
def test_hours_shared_with_rome_follow_both_clocks(
    zone: str, day: date, expected: list[str]
) -> None:
    assert hours(day, zone) == expected


# languages.md 4.3, measured there: Paris and Kathmandu, both 08 to 20.
@pytest.mark.parametrize(
    ("ours", "day", "shared_hours"),
    [
        ("Europe/Paris", date(2026, 10, 24), 8.25),
        ("Europe/Paris", date(2026, 10, 26), 7.25),
        ("America/New_York", date(2026, 10, 26), 2.25),
    ],
)
def test_published_overlaps_with_kathmandu(ours: str, day: date, shared_hours: float) -> None:
    theirs = Clock(ZoneInfo("Asia/Kathmandu"), DAYTIME)
    found = shared(day, Clock(ZoneInfo(ours), DAYTIME), theirs)
    assert sum(span.hours for span in found) == shared_hours


def test_a_day_has_as_many_hours_as_the_clock_gives_it() -> None:
    always = Clock(ROME)
    lengths = [sum(span.hours for span in shared(day, always, always)) for day in (FORWARD, BACK)]
    assert lengths == [23, 25]


def test_an_hour_that_comes_twice_counts_twice_and_one_that_is_left_out_not_at_all() -> None:
    night = Clock(ROME, SafeTimes((Window(time(2), time(3)),)))
    assert [span.hours for span in shared(BACK, Clock(ROME), night)] == [2]
    assert shared(FORWARD, Clock(ROME), night) == ()


def test_quiet_days_are_those_of_their_calendar() -> None:
    """Friday evening in Rome is Saturday in Kathmandu, where nobody rings on a Saturday."""
    safe = SafeTimes((Window(time(0), time(8)),), frozenset({0, 1, 2, 3, 4, 6}))
    theirs = Clock(ZoneInfo("Asia/Kathmandu"), safe)
    assert shared(date(2026, 11, 27), Clock(ROME), theirs)[-1].end.hour == 3
    assert shared(date(2026, 11, 26), Clock(ROME), theirs)[-1].begin.hour == 19


def test_the_next_hours_begin_now_or_when_both_are_awake() -> None:
    ours, theirs = Clock(ROME, DAYTIME), Clock(ZoneInfo("Asia/Kathmandu"), DAYTIME)
    now = datetime(2026, 10, 24, 9, 30, tzinfo=ROME)
    assert next_shared(now, ours, theirs) == Span(now, now.replace(hour=16, minute=15))
    late = datetime(2026, 10, 24, 18, tzinfo=ROME)
    found = next_shared(late, ours, theirs)
    assert found is not None
    assert f"{found.begin:%d %H:%M}, {found.end:%H:%M}" == "25 08:00, 15:15"


def test_two_who_are_never_awake_together_get_no_hours() -> None:
    ours = Clock(ROME, SafeTimes((Window(time(9), time(10)),)))
    theirs = Clock(ROME, SafeTimes((Window(time(10), time(11)),)))
    assert next_shared(datetime(2026, 11, 23, 8, tzinfo=ROME), ours, theirs) is None


@given(
    st.sampled_from(["Europe/Rome", "America/New_York", "Australia/Lord_Howe"]),
    st.sampled_from(["Asia/Kathmandu", "Africa/Casablanca", "Pacific/Chatham"]),
    st.sampled_from([FORWARD, BACK, date(2026, 11, 1), date(2026, 4, 5), date(2026, 6, 1)]),
    st.integers(0, 24 * 60),
)
def test_a_minute_is_in_a_span_where_both_clocks_say_so(
    ours: str, theirs: str, day: date, minute: int
) -> None:
    one = Clock(ZoneInfo(ours), SafeTimes((Window(time(1, 10), time(21, 5)),)))
    other = Clock(ZoneInfo(theirs), SafeTimes((Window(time(2, 40), time(12)),)))
    begin = datetime.combine(day, time(), one.zone).astimezone(UTC)
    at = begin + timedelta(minutes=minute)
    if at >= datetime.combine(day + timedelta(days=1), time(), one.zone).astimezone(UTC):
        return
    said = any(span.begin <= at < span.end for span in shared(day, one, other))
    assert said == (
        is_decent(at.astimezone(one.zone), one.safe)
        and is_decent(at.astimezone(other.zone), other.safe)
    )


def test_the_wait_after_no_answer_is_counted_by_their_calendar_across_a_change() -> None:
    """F1 over the night of 24 October: two days later, in another part of the day, by the wall."""
    for zone in ("Europe/Rome", "America/New_York", "Asia/Kathmandu"):
        at = datetime(2026, 10, 24, 10, 40, tzinfo=ZoneInfo(zone))
        found = next_ring(Outcome.NO_ANSWER, 1, at).not_before
        assert found is not None
        assert (found.date(), found.time()) == (date(2026, 10, 26), time(12))
    rome = datetime(2026, 10, 24, 10, 40, tzinfo=ROME)
    after = next_ring(Outcome.NO_ANSWER, 1, rome).not_before
    assert after is not None
    # 49 hours and 20 minutes by the wall, one more by a clock that never changes.
    waited = after.astimezone(UTC) - rome.astimezone(UTC)
    assert waited == timedelta(hours=50, minutes=20)
