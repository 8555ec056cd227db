"""Days of two local calendars, from tables that were compared; nothing outside them is guessed."""

from bisect import bisect_right
from datetime import date, timedelta
from enum import StrEnum
from functools import cache
from itertools import accumulate
from pathlib import Path
from typing import NamedTuple

from hijridate import Gregorian, Hijri

TABLE = Path(__file__).with_name("bikram_sambat.csv")
# The first day of the table: 1 Baishakh 1975.
BEGINS = date(1918, 4, 13)
PROVISIONAL = "provisional"
# What the tables of hijridate cover: 1 Muharram 1343 to 30 Dhu al-Hijja 1500.
HIJRI_FIRST, HIJRI_LAST = date(1924, 8, 1), date(2077, 11, 16)


class Calendar(StrEnum):
    """A calendar that a day can be printed in; the Gregorian one governs."""

    GREGORIAN = "gregorian"
    BIKRAM_SAMBAT = "bikram_sambat"
    HIJRI = "hijri"  # Umm al-Qura, the civil calendar of Saudi Arabia


# Whose form bears a second calendar without being asked. Arabic alone asks for none: Umm al-Qura
# is the civil calendar of one country, and months announced elsewhere differ by a day or two
# (languages.md 1.3). So it stands where the tag names that country, or the person asks.
OF_LANGUAGE = {"ne": Calendar.BIKRAM_SAMBAT, "ar-sa": Calendar.HIJRI}


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
    Sources: the table beside this module; hijridate 2.6.0.
    """
    if calendar is Calendar.BIKRAM_SAMBAT:
        return _to_bikram_sambat(day)
    if calendar is Calendar.HIJRI:
        return _to_hijri(day)
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
