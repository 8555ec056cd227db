"""Days of local calendars against published anchors and another library.

[S]: read in the source named. [M]: from memory. [V]: computed by the library named, and listed in
languages.md 1.2 to 1.4. Days of every calendar but the first against a browser:
tests/browser/test_calendars.py.
"""

import csv
from datetime import date, timedelta

import nepali_datetime
import pytest

from relations.languages.counted_calendars import is_solar_leap
from relations.languages.local_calendars import (
    TABLE,
    Calendar,
    days_of,
    to_gregorian,
    to_local,
)
from relations.languages.reading_days import readings

BS, HIJRI, SOLAR = Calendar.BIKRAM_SAMBAT, Calendar.HIJRI, Calendar.SOLAR_HIJRI

ANCHORS = [
    ((2072, 6, 3), date(2015, 9, 20)),  # [S] the Constitution's gazette date, "2072.6.3"
    ((2075, 6, 2), date(2018, 9, 18)),  # [S] Privacy Act authentication, lawcommission.gov.np
    ((2072, 1, 12), date(2015, 4, 25)),  # [S] Gorkha earthquake, nepalnews.com
    ((2082, 10, 2), date(2026, 1, 16)),  # [S] dateline of nagariknews, a Friday
    ((2007, 11, 7), date(1951, 2, 18)),  # [S] Democracy Day
    ((2047, 5, 29), date(1990, 9, 14)),  # [S] Children's Day
    # [S] The great earthquake; in 2026 the press printed 16 January beside this day.
    ((1990, 10, 2), date(1934, 1, 15)),
    ((2058, 2, 19), date(2001, 6, 1)),  # [M]
    ((2065, 2, 15), date(2008, 5, 28)),  # [M]
    ((2000, 1, 1), date(1943, 4, 14)),  # [M]
]


def rows() -> dict[int, dict[str, str]]:
    with TABLE.open(encoding="utf-8", newline="") as file:
        found = csv.DictReader(line for line in file if not line.startswith("#"))
        return {int(row["year"]): row for row in found}


@pytest.mark.parametrize("local, day", ANCHORS)
def test_published_days_of_bikram_sambat_are_ours(local: tuple[int, int, int], day: date) -> None:
    assert to_local(day, BS)[1:4] == local
    assert to_gregorian(BS, *local) == day


def test_day_the_press_printed_for_1934_is_the_day_after() -> None:
    assert to_local(date(1934, 1, 16), BS)[1:4] == (1990, 10, 3)


def test_friday_of_the_dateline_is_a_friday() -> None:
    assert to_gregorian(BS, 2082, 10, 2).isoweekday() == 5


def test_bikram_sambat_equals_nepali_datetime_on_every_day_it_is_right_on() -> None:
    """[V] nepali-datetime 1.0.8.5: every year to 2083 in which it is not the one that dissents."""
    agreed = [
        year
        for year, row in rows().items()
        if row["status"] != "provisional" and "nepali-datetime" not in row["libs_dissenting"]
    ]
    assert agreed == list(range(1975, 2084))
    days = 0
    for year in agreed:
        day, after = to_gregorian(BS, year, 1, 1), to_gregorian(BS, year + 1, 1, 1)
        while day < after:
            theirs = nepali_datetime.date.from_datetime_date(day)
            assert to_local(day, BS)[1:4] == (theirs.year, theirs.month, theirs.day), day
            assert theirs.to_datetime_date() == day
            day, days = day + timedelta(1), days + 1
    assert days == (date(2027, 4, 14) - date(1918, 4, 13)).days == 39_813


def test_tables_part_from_2084_on_and_the_day_says_so() -> None:
    """[V] From 14 April 2027 two families of tables never agree again (languages.md 1.2)."""
    row = rows()[2084]
    assert (row["status"], row["libs_agreeing"]) == ("provisional", "2")
    differ = [
        day
        for day in (date(2027, 4, 14) + timedelta(n) for n in range(365))
        if to_local(day, BS)[1:4]
        != (
            (theirs := nepali_datetime.date.from_datetime_date(day)).year,
            theirs.month,
            theirs.day,
        )
    ]
    assert differ
    assert all(to_local(day, BS).is_provisional for day in differ)


def test_every_row_is_a_year_and_says_how_many_tables_hold_it() -> None:
    table = rows()
    assert list(table) == list(range(1975, 2091))
    for row in table.values():
        lengths = [int(row[str(month)]) for month in range(1, 13)]
        assert sum(lengths) == int(row["days"]) and int(row["days"]) in {365, 366}
        assert set(lengths) <= {29, 30, 31, 32}
        assert row["status"] in {"agreed", "one-dissent", "two-dissent", "provisional"}
        assert (row["libs_dissenting"] == "") == (row["status"] == "agreed")
        assert int(row["libs_agreeing"]) >= 2
    # languages.md 1.2: 102 of 109 years are unanimous.
    assert sum(row["status"] == "agreed" for row in table.values()) == 102


@pytest.mark.parametrize(
    "local, day",
    # [V] languages.md 1.3, computed with hijridate 2.6.0.
    [
        ((1445, 9, 1), date(2024, 3, 11)),
        ((1446, 9, 1), date(2025, 3, 1)),
        ((1448, 1, 1), date(2026, 6, 16)),
        ((1448, 6, 15), date(2026, 11, 25)),
        # The ends of its table.
        ((1343, 1, 1), date(1924, 8, 1)),
        ((1500, 12, 30), date(2077, 11, 16)),
    ],
)
def test_known_days_of_the_hijri_year_are_ours(local: tuple[int, int, int], day: date) -> None:
    assert to_local(day, HIJRI)[1:4] == local
    assert to_gregorian(HIJRI, *local) == day


@pytest.mark.parametrize(
    "calendar, local, day",
    # [V] languages.md 1.4: equal in jdatetime, persiantools, ICU; ICU and convertdate.
    [
        (SOLAR, (1400, 1, 1), date(2021, 3, 21)),
        (SOLAR, (1403, 1, 1), date(2024, 3, 20)),
        (SOLAR, (1357, 11, 22), date(1979, 2, 11)),
        (Calendar.ETHIOPIAN, (2000, 1, 1), date(2007, 9, 12)),
        (Calendar.ETHIOPIAN, (2016, 1, 1), date(2023, 9, 12)),
        # [V] ICU: 543 years more.
        (Calendar.BUDDHIST, (2569, 11, 25), date(2026, 11, 25)),
    ],
)
def test_known_days_of_counted_calendars_are_ours(
    calendar: Calendar, local: tuple[int, int, int], day: date
) -> None:
    assert to_local(day, calendar)[1:4] == local
    assert to_gregorian(calendar, *local) == day


def test_leap_years_of_the_solar_hijri_calendar_are_those_of_the_rule() -> None:
    """[V] languages.md 1.4: the rule of 33 years, right in all 230 years from 1250 to 1479."""
    leap = [
        year
        for year in range(1250, 1480)
        if days_of(SOLAR, year, 12)[1] - days_of(SOLAR, year, 12)[0] == timedelta(29)
    ]
    assert leap == [year for year in range(1250, 1480) if is_solar_leap(year)]
    # [M] leap years as calendars in Iran print them.
    assert [year for year in leap if 1370 <= year <= 1410] == [
        *(1370, 1375, 1379, 1383, 1387, 1391, 1395, 1399, 1403, 1408),
    ]


@pytest.mark.parametrize(
    "typed, earliest, latest",
    # Value from languages.md 1.5.
    [
        ("2008", "2008-01-01", "2008-12-31"),
        ("BS 2065", "2008-04-13", "2009-04-13"),
        ("BS 2064", "2007-04-14", "2008-04-12"),
        ("AH 1429", "2008-01-10", "2008-12-28"),
        ("Ethiopian 2000", "2007-09-12", "2008-09-10"),
        ("Ethiopian 2001", "2008-09-11", "2009-09-10"),
    ],
)
def test_years_that_were_said_have_the_days_of_the_table(
    typed: str, earliest: str, latest: str
) -> None:
    (found,) = readings(typed)
    assert (str(found.interval.earliest), str(found.interval.latest)) == (earliest, latest)
