"""Three calendars that are counted by rules: Solar Hijri, Ethiopian, and the Thai Buddhist year.

Each gives (year, month, day), months and days from 1, or None outside the range in which it was
compared with another library day by day (tests/outside, tests/browser).
"""

from bisect import bisect_right
from datetime import date, timedelta
from functools import cache
from itertools import accumulate

Parts = tuple[int, int, int]

# The rule of 33 years is right for the start of each of these years (languages.md 1.4).
SOLAR_FIRST, SOLAR_LAST = 1250, 1479
_NOWRUZ_1250 = date(1871, 3, 21)
# Days before each month: six of 31, then of 30.
_SOLAR_BEFORE = (0, 31, 62, 93, 124, 155, 186, 216, 246, 276, 306, 336)
# The day before 1 Meskerem of the year 1, as `date.toordinal` counts.
_ETHIOPIAN_ORIGIN = 2795
# What was compared day by day.
FIRST, LAST = date(1900, 1, 1), date(2100, 12, 31)
# The first Thai year that began on 1 January; before it, years began on 1 April.
THAI_FIRST, THAI_AHEAD = date(1941, 1, 1), 543


def is_solar_leap(year: int) -> bool:
    """Whether a Solar Hijri year of 1250 to 1479 has 366 days."""
    return (25 * year + 11) % 33 < 8


@cache
def _nowruz() -> tuple[date, ...]:
    """The first day of each Solar Hijri year, and of the year after the last."""
    lengths = (365 + is_solar_leap(year) for year in range(SOLAR_FIRST, SOLAR_LAST + 1))
    return tuple(_NOWRUZ_1250 + timedelta(days) for days in accumulate(lengths, initial=0))


def to_solar_hijri(day: date) -> Parts | None:
    """Give a Gregorian day as Iran and Afghanistan count it; None outside 1250-1479."""
    starts = _nowruz()
    if not starts[0] <= day < starts[-1]:
        return None
    position = bisect_right(starts, day) - 1
    passed = (day - starts[position]).days
    month = bisect_right(_SOLAR_BEFORE, passed)
    return SOLAR_FIRST + position, month, passed - _SOLAR_BEFORE[month - 1] + 1


def from_solar_hijri(year: int, month: int, day: int) -> date | None:
    """Give the Gregorian day of a Solar Hijri one; None where there is none in 1250-1479."""
    if not (SOLAR_FIRST <= year <= SOLAR_LAST and 1 <= month <= 12):
        return None
    longest = 31 if month <= 6 else 30 if month <= 11 or is_solar_leap(year) else 29
    if not 1 <= day <= longest:
        return None
    return _nowruz()[year - SOLAR_FIRST] + timedelta(_SOLAR_BEFORE[month - 1] + day - 1)


def to_ethiopian(day: date) -> Parts | None:
    """Give a Gregorian day of 1900-2100 as Ethiopia counts it: 12 months of 30 days and a rest."""
    if not FIRST <= day <= LAST:
        return None
    # Four years are 1,461 days; the third of each four has the longer rest.
    passed = day.toordinal() - _ETHIOPIAN_ORIGIN - 1
    year = (4 * passed + 1463) // 1461
    months, days = divmod(passed - 365 * (year - 1) - year // 4, 30)
    return year, months + 1, days + 1


def from_ethiopian(year: int, month: int, day: int) -> date | None:
    """Give the Gregorian day of an Ethiopian one; None where there is none in 1900-2100."""
    longest = 30 if month <= 12 else 5 + (year % 4 == 3)
    if not (1890 <= year <= 2095 and 1 <= month <= 13 and 1 <= day <= longest):
        return None
    passed = 365 * (year - 1) + year // 4 + 30 * (month - 1) + day
    found = date.fromordinal(_ETHIOPIAN_ORIGIN + passed)
    return found if FIRST <= found <= LAST else None


def to_buddhist(day: date) -> Parts | None:
    """Give a Gregorian day of 1941-2100 with the year as Thailand counts it."""
    if not THAI_FIRST <= day <= LAST:
        return None
    return day.year + THAI_AHEAD, day.month, day.day


def from_buddhist(year: int, month: int, day: int) -> date | None:
    """Give the Gregorian day of a Thai one; None where there is none in 1941-2100."""
    try:
        found = date(year - THAI_AHEAD, month, day)
    except ValueError:
        return None
    return found if THAI_FIRST <= found <= LAST else None
