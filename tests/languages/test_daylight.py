"""Light of a day: its shape everywhere on earth, in zones and on the days when clocks change."""

from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from relations.languages.daylight import HIGH, LOW, RISEN, light, sun_at

ROME = ZoneInfo("Europe/Rome")
TROMSOE = (69.65, 18.96, ZoneInfo("Europe/Oslo"))
latitudes = st.floats(-90, 90)
longitudes = st.floats(-180, 180)
days = st.dates(date(2000, 1, 1), date(2060, 12, 31))


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 60 * 365 * 24), latitudes, longitudes)
def test_sun_stands_somewhere_in_the_sky_or_below(hours, latitude, longitude) -> None:
    sun = sun_at(datetime(2000, 1, 1, tzinfo=UTC) + timedelta(hours=hours), latitude, longitude)
    assert 0 <= sun.azimuth < 360
    assert -90 <= sun.height <= 90


@settings(deadline=None, max_examples=40)
@given(days, st.floats(-60, 60), longitudes)
def test_sun_rises_and_sets_once_a_day_where_people_live(on, latitude, longitude) -> None:
    found = light(on, latitude, longitude, UTC)
    for at in (found.rise, found.set):
        assert abs(sun_at(at, latitude, longitude).height - RISEN) < 0.02
    assert found.highest >= max(sun_at(at, latitude, longitude).height for at in (found.rise,))


@settings(deadline=None, max_examples=40)
@given(days, latitudes, longitudes)
def test_low_sun_is_low_within_its_windows_and_nowhere_else(on, latitude, longitude) -> None:
    found = light(on, latitude, longitude, UTC)
    begin = datetime(on.year, on.month, on.day, tzinfo=UTC)
    for minute in range(7, 24 * 60, 60):
        at = begin + timedelta(minutes=minute)
        height = sun_at(at, latitude, longitude).height
        if min(abs(height - LOW), abs(height - HIGH)) > 0.05:
            inside = any(first <= at <= last for first, last in found.low)
            assert inside == (LOW < height < HIGH)
    assert all(first[1] < last[0] for first, last in pairwise(found.low))


def test_sun_that_does_not_set_and_one_that_does_not_rise() -> None:
    summer, winter = light(date(2026, 6, 21), *TROMSOE), light(date(2026, 12, 21), *TROMSOE)
    assert (summer.rise, summer.set, len(summer.low)) == (None, None, 2)
    assert (winter.rise, winter.set, len(winter.low)) == (None, None, 1)
    assert winter.highest < 0 < summer.highest


@pytest.mark.parametrize("on", [date(2026, 3, 29), date(2026, 10, 25), date(2026, 11, 23)])
def test_hours_are_those_of_the_day_also_when_clocks_change(on) -> None:
    """The night of the change is before sunrise, so both hours are of the new time."""
    found = light(on, 45, 12, ROME)
    assert found.rise.date() == found.set.date() == on
    assert (
        found.rise.utcoffset() == datetime(on.year, on.month, on.day, 12, tzinfo=ROME).utcoffset()
    )
    assert found.rise < found.highest_at < found.set


def test_low_sun_may_last_all_of_a_day() -> None:
    """At the pole some days after its equinox, on the shortest day of the clocks: 23 hours."""
    [(begin, end)] = light(date(2026, 3, 29), 90, 12, ROME).low
    assert end.astimezone(UTC) - begin.astimezone(UTC) == timedelta(hours=23)


def test_sun_stands_in_the_south_at_its_highest_north_of_the_tropics() -> None:
    found = light(date(2026, 11, 23), 43, 5, ROME)
    assert abs(sun_at(found.highest_at, 43, 5).azimuth - 180) < 0.5
    south = light(date(2026, 11, 23), -43, 5, ROME)
    azimuth = sun_at(south.highest_at, -43, 5).azimuth
    assert min(azimuth, 360 - azimuth) < 0.5
