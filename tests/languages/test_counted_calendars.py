"""Three counted calendars by brute force; values from outside are in tests/outside and browser."""

from datetime import date, timedelta

import pytest

from relations.languages import counted_calendars as counted

PAIRS = {
    "solar": (counted.to_solar_hijri, counted.from_solar_hijri, date(1871, 3, 21)),
    "ethiopian": (counted.to_ethiopian, counted.from_ethiopian, date(1900, 1, 1)),
    "buddhist": (counted.to_buddhist, counted.from_buddhist, date(1941, 1, 1)),
}
LAST = {"solar": date(2101, 3, 20), "ethiopian": date(2100, 12, 31), "buddhist": date(2100, 12, 31)}


@pytest.mark.parametrize("name", PAIRS)
def test_every_day_comes_back_and_follows_the_day_before(name):
    to_local, from_local, day = PAIRS[name]
    assert to_local(day - timedelta(1)) is None
    before = None
    while day <= LAST[name]:
        parts = to_local(day)
        assert from_local(*parts) == day
        if before is not None:
            # The next of the month, the first of the next month, or New Year.
            follows = {
                (*before[:2], before[2] + 1), (before[0], before[1] + 1, 1), (before[0] + 1, 1, 1)
            }  # fmt: skip
            assert parts in follows, (before, parts)
        before, day = parts, day + timedelta(1)
    assert to_local(day) is None


@pytest.mark.parametrize(
    "name, parts",
    [
        ("solar", (1249, 12, 29)),
        ("solar", (1480, 1, 1)),
        ("solar", (1404, 12, 30)),  # no leap year
        ("solar", (1403, 12, 31)),
        ("solar", (1403, 7, 31)),
        ("solar", (1403, 1, 32)),
        ("solar", (1403, 0, 1)),
        ("solar", (1403, 13, 1)),
        ("solar", (1403, 1, 0)),
        ("ethiopian", (2016, 13, 6)),
        ("ethiopian", (2015, 13, 7)),
        ("ethiopian", (2016, 1, 31)),
        ("ethiopian", (2016, 14, 1)),
        ("ethiopian", (2016, 0, 1)),
        ("ethiopian", (2016, 1, 0)),
        ("ethiopian", (1889, 1, 1)),
        ("ethiopian", (1892, 4, 22)),  # the last of 1899
        ("ethiopian", (2093, 4, 22)),  # the first of 2101
        ("buddhist", (2569, 2, 29)),
        ("buddhist", (2483, 12, 31)),  # years began on 1 April then
        ("buddhist", (2644, 1, 1)),
        ("buddhist", (543, 1, 1)),
    ],
)
def test_day_that_is_none_or_lies_outside_the_checked_range_is_not_converted(name, parts):
    assert PAIRS[name][1](*parts) is None


def test_longest_years_have_their_last_day():
    assert counted.from_solar_hijri(1403, 12, 30) == date(2025, 3, 20)
    assert counted.from_ethiopian(2015, 13, 6) == date(2023, 9, 11)
    assert counted.from_buddhist(2567, 2, 29) == date(2024, 2, 29)
