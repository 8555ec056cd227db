"""Local calendars at the edges of their ranges; values from outside are in tests/outside."""

from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages import local_calendars
from relations.languages.local_calendars import (
    Calendar,
    LocalDay,
    calendar_of,
    confirmed_until,
    days_of,
    months_in,
    to_gregorian,
    to_local,
)

BS, HIJRI = Calendar.BIKRAM_SAMBAT, Calendar.HIJRI
RANGES = {
    Calendar.SOLAR_HIJRI: (date(1871, 3, 21), date(2101, 3, 20)),
    BS: (date(1918, 4, 13), date(2034, 4, 13)),
    HIJRI: (date(1924, 8, 1), date(2077, 11, 16)),
}


@pytest.mark.parametrize("calendar", RANGES)
def test_first_and_last_day_of_the_table_are_converted_and_none_beyond(calendar):
    first, last = RANGES[calendar]
    assert to_local(first, calendar)[2:4] == (1, 1)
    assert to_local(last, calendar).month == 12
    for beyond in (first - timedelta(1), last + timedelta(1), date.min, date.max):
        assert to_local(beyond, calendar) is None


@given(st.sampled_from(list(RANGES)), st.data())
def test_every_day_comes_back(calendar, data):
    day = data.draw(st.dates(*RANGES[calendar]))
    local = to_local(day, calendar)
    assert local is not None
    assert to_gregorian(*local[:4]) == day


@given(st.sampled_from(list(RANGES)), st.data())
def test_next_day_is_the_next_of_the_month_or_the_first_of_another(calendar, data):
    first, last = RANGES[calendar]
    day = data.draw(st.dates(first, last - timedelta(1)))
    one, two = to_local(day, calendar), to_local(day + timedelta(1), calendar)
    months = [local.year * 12 + local.month for local in (one, two)]
    assert (months[1], two.day) in {(months[0], one.day + 1), (months[0] + 1, 1)}


@pytest.mark.parametrize(
    "calendar, year, month, day",
    [
        (BS, 1974, 12, 30),
        (BS, 2091, 1, 1),
        (BS, 2083, 0, 1),
        (BS, 2083, 13, 1),
        (BS, 2083, 8, 0),
        (BS, 2083, 8, 30),  # Mangsir 2083 has 29 days
        (HIJRI, 1342, 12, 29),
        (HIJRI, 1501, 1, 1),
        (HIJRI, 1448, 13, 1),
        (HIJRI, 1448, 1, 31),
        (Calendar.GREGORIAN, 2026, 2, 29),
        (Calendar.GREGORIAN, 10_000, 1, 1),
    ],
)
def test_day_that_no_table_has_is_not_converted(calendar, year, month, day):
    assert to_gregorian(calendar, year, month, day) is None


def test_last_days_of_the_tables_are_converted_back():
    assert to_gregorian(BS, 2090, 12, 30) == date(2034, 4, 13)
    assert to_gregorian(HIJRI, 1500, 12, 30) == date(2077, 11, 16)


def test_gregorian_day_is_itself():
    day = date(2026, 11, 25)
    assert to_local(day, Calendar.GREGORIAN) == LocalDay(Calendar.GREGORIAN, 2026, 11, 25)
    assert to_gregorian(Calendar.GREGORIAN, 2026, 11, 25) == day


def test_years_from_2084_on_are_provisional_and_those_before_are_not():
    assert confirmed_until() == date(2027, 4, 13)
    last, first = (to_local(date(2027, 4, day), BS) for day in (13, 14))
    assert (last, last.is_provisional) == ((BS, 2083, 12, 30, False), False)
    assert (first, first.is_provisional) == ((BS, 2084, 1, 1, True), True)
    assert not to_local(date(2027, 4, 14), HIJRI).is_provisional


@pytest.mark.parametrize(
    "lang, calendar",
    [
        ("ne", BS),
        ("ne-NP", BS),
        ("NE_np", BS),
        ("ar", Calendar.GREGORIAN),
        ("ar-MA", Calendar.GREGORIAN),
        ("ar-SA", HIJRI),
        ("fa", Calendar.SOLAR_HIJRI),
        ("fa-AF", Calendar.SOLAR_HIJRI),
        ("ps", Calendar.SOLAR_HIJRI),
        ("am", Calendar.ETHIOPIAN),
        ("ti", Calendar.GREGORIAN),
        ("ti-ET", Calendar.ETHIOPIAN),
        ("th", Calendar.BUDDHIST),
        ("fr", Calendar.GREGORIAN),
        ("bn", Calendar.GREGORIAN),
        ("new", Calendar.GREGORIAN),
    ],
)
def test_language_brings_its_calendar_and_arabic_alone_brings_none(lang, calendar):
    assert calendar_of(lang) is calendar


def test_table_is_read_once():
    to_local(date(2026, 11, 25), BS)
    read = local_calendars._table.cache_info().misses
    to_local(date(2026, 11, 26), BS)
    assert local_calendars._table.cache_info().misses == read == 1


@pytest.mark.parametrize("calendar", Calendar)
def test_days_of_a_year_and_of_a_month_are_all_its_days(calendar):
    today = to_local(date(2026, 11, 25), calendar)
    first, last = days_of(calendar, today.year)
    months = [days_of(calendar, today.year, month) for month in range(1, months_in(calendar) + 1)]
    assert (months[0][0], months[-1][1]) == (first, last)
    for one, two in pairwise(months):
        assert one[1] + timedelta(1) == two[0]
    assert to_local(last + timedelta(1), calendar)[1:4] == (today.year + 1, 1, 1)
    assert days_of(calendar, *today[1:4]) == (date(2026, 11, 25), date(2026, 11, 25))


@pytest.mark.parametrize(
    "calendar, parts",
    [
        (BS, (1974,)),
        (BS, (2083, 13)),
        (BS, (2083, 8, 30)),
        (Calendar.ETHIOPIAN, (1892,)),  # its first days lie before the range
        (Calendar.ETHIOPIAN, (2093, 5)),
        (Calendar.GREGORIAN, (2026, 2, 29)),
    ],
)
def test_what_is_not_whole_in_the_checked_range_has_no_days(calendar, parts):
    assert days_of(calendar, *parts) is None
