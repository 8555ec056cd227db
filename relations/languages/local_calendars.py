"""Days of five local calendars, in their checked ranges; nothing outside them is guessed.

Bikram Sambat and Hijri are read from tables that were compared; the others are counted.
"""

from bisect import bisect_right
from datetime import date, timedelta
from enum import StrEnum
from functools import cache
from itertools import accumulate
from pathlib import Path
from typing import NamedTuple

from hijridate import Gregorian, Hijri

from . import counted_calendars as counted

TABLE = Path(__file__).with_name("bikram_sambat.csv")
# The first day of the table: 1 Baishakh 1975.
BEGINS = date(1918, 4, 13)
PROVISIONAL = "provisional"
# No month is longer than 32 days; the last of the Ethiopian year has five or six.
_LENGTHS = range(32, 4, -1)
# What the tables of hijridate cover: 1 Muharram 1343 to 30 Dhu al-Hijja 1500.
HIJRI_FIRST, HIJRI_LAST = date(1924, 8, 1), date(2077, 11, 16)


class Calendar(StrEnum):
    """A calendar that a day can be printed in; the Gregorian one governs."""

    GREGORIAN = "gregorian"
    BIKRAM_SAMBAT = "bikram_sambat"
    HIJRI = "hijri"  # Umm al-Qura, the civil calendar of Saudi Arabia
    SOLAR_HIJRI = "solar_hijri"  # of Iran and Afghanistan
    ETHIOPIAN = "ethiopian"
    BUDDHIST = "buddhist"  # of Thailand; elsewhere the Buddhist year is one more


# Whose form bears a second calendar without being asked. Arabic alone asks for none: Umm al-Qura
# is the civil calendar of one country, and months announced elsewhere differ by a day or two
# (languages.md 1.3). So it stands where the tag names that country, or the person asks.
# Tigrinya is read in two countries, and one of them counts by the Gregorian calendar.
OF_LANGUAGE = {
    "am": Calendar.ETHIOPIAN,
    "ar-sa": Calendar.HIJRI,
    "fa": Calendar.SOLAR_HIJRI,
    "ne": Calendar.BIKRAM_SAMBAT,
    "ps": Calendar.SOLAR_HIJRI,
    "th": Calendar.BUDDHIST,
    "ti-et": Calendar.ETHIOPIAN,
}
# Counted by rules: how a Gregorian day is counted, and the way back.
_COUNTED = {
    Calendar.SOLAR_HIJRI: (counted.to_solar_hijri, counted.from_solar_hijri),
    Calendar.ETHIOPIAN: (counted.to_ethiopian, counted.from_ethiopian),
    Calendar.BUDDHIST: (counted.to_buddhist, counted.from_buddhist),
}


class LocalDay(NamedTuple):
    """A day as a local calendar counts it; months and days from 1.

    `is_provisional` where the table is a forecast: to be said wherever the day is printed, and
    never to decide anything.
    """

    calendar: Calendar
    year: int
    month: int
    day: int
    is_provisional: bool = False


class _Table(NamedTuple):
    """The months of Bikram Sambat in one row: when each starts, and the day after the last."""

    first_year: int
    starts: tuple[date, ...]
    confirmed_until: date


def calendar_of(lang: str) -> Calendar:
    """Give the calendar printed beside the Gregorian one for a BCP 47 tag, else that one itself."""
    tag = lang.lower().replace("_", "-")
    found = OF_LANGUAGE.get(tag) or OF_LANGUAGE.get(tag.partition("-")[0])
    return found or Calendar.GREGORIAN


@cache
def _table() -> _Table:
    """Read the table once: 116 rows of year, twelve lengths, and what is known of them."""
    lines = TABLE.read_text(encoding="utf-8").splitlines()
    head, *rows = [line.split(",") for line in lines if not line.startswith("#")]
    lengths = [int(length) for row in rows for length in row[1:13]]
    starts = tuple(BEGINS + timedelta(days) for days in accumulate(lengths, initial=0))
    confirmed = sum(row[head.index("status")] != PROVISIONAL for row in rows)
    return _Table(int(rows[0][0]), starts, starts[12 * confirmed] - timedelta(1))


def confirmed_until() -> date:
    """Give the last Gregorian day whose Bikram Sambat day is more than a forecast."""
    return _table().confirmed_until


def to_local(day: date, calendar: Calendar) -> LocalDay | None:
    """Give a Gregorian day as `calendar` counts it; None outside its checked range.

    Checked: Bikram Sambat 1975-2090, from 2084 (14 April 2027) on as provisional; Hijri 1343-1500.
    Solar Hijri 1250-1479; Ethiopian 1892-2093; Buddhist 2484-2643.
    Sources: the table beside this module; hijridate 2.6.0; `counted_calendars`.
    """
    if calendar is Calendar.BIKRAM_SAMBAT:
        return _to_bikram_sambat(day)
    if calendar is Calendar.HIJRI:
        return _to_hijri(day)
    if calendar in _COUNTED:
        parts = _COUNTED[calendar][0](day)
        return LocalDay(calendar, *parts) if parts else None
    return LocalDay(calendar, day.year, day.month, day.day)


def _to_bikram_sambat(day: date) -> LocalDay | None:
    table = _table()
    if not table.starts[0] <= day < table.starts[-1]:
        return None
    position = bisect_right(table.starts, day) - 1
    years, months = divmod(position, 12)
    return LocalDay(
        Calendar.BIKRAM_SAMBAT,
        table.first_year + years,
        months + 1,
        (day - table.starts[position]).days + 1,
        is_provisional=day > table.confirmed_until,
    )


def _to_hijri(day: date) -> LocalDay | None:
    if not HIJRI_FIRST <= day <= HIJRI_LAST:
        return None
    return LocalDay(Calendar.HIJRI, *Gregorian(day.year, day.month, day.day).to_hijri().datetuple())


def to_gregorian(calendar: Calendar, year: int, month: int, day: int) -> date | None:
    """Give the Gregorian day of a local one; None outside the checked range or the month."""
    if calendar is Calendar.BIKRAM_SAMBAT:
        return _from_bikram_sambat(year, month, day)
    if calendar in _COUNTED:
        return _COUNTED[calendar][1](year, month, day)
    try:
        if calendar is Calendar.HIJRI:
            return date(*Hijri(year, month, day).to_gregorian().datetuple())
        return date(year, month, day)
    except (ValueError, OverflowError):
        return None


def _from_bikram_sambat(year: int, month: int, day: int) -> date | None:
    table = _table()
    position = (year - table.first_year) * 12 + month - 1
    if not (1 <= month <= 12 and 0 <= position < len(table.starts) - 1):
        return None
    length = (table.starts[position + 1] - table.starts[position]).days
    return table.starts[position] + timedelta(day - 1) if 1 <= day <= length else None


def months_in(calendar: Calendar) -> int:
    """Give how many months a year of `calendar` has: thirteen in the Ethiopian one."""
    return 13 if calendar is Calendar.ETHIOPIAN else 12


def days_of(
    calendar: Calendar, year: int, month: int | None = None, day: int | None = None
) -> tuple[date, date] | None:
    """Give the first and last Gregorian day of a local year, month or day; None outside the range.

    A month without its year, or a day without its month, is nobody's to ask for.
    """
    if day is not None:
        only = to_gregorian(calendar, year, month or 0, day)
        return (only, only) if only else None
    first = to_gregorian(calendar, year, month or 1, 1)
    ends = (to_gregorian(calendar, year, month or months_in(calendar), n) for n in _LENGTHS)
    last = next((end for end in ends if end), None)
    return (first, last) if first and last else None
