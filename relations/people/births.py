"""When somebody was born, as they say it: a day in any calendar, a year, or an age."""

import re
from collections.abc import Iterable
from datetime import date, timedelta
from typing import NamedTuple

from relations.languages.calendars import Interval
from relations.languages.digits import to_ascii
from relations.languages.direction import strip_marks
from relations.languages.local_calendars import Calendar, days_of
from relations.languages.month_names import folded
from relations.languages.reading_days import Reading

from .rules import age_on, ripeness
from .values import Birth, Ripeness

OLDEST = 120  # years
ABOUT = 2  # years on either side of "about 18"; source: languages.md 1.5
# The Hijri year from which a day may be off by one; before it by two (languages.md 1.3).
SURER_FROM = 1420
# The month of Bikram Sambat on whose days two of the compared tables part (languages.md 1.2).
DISPUTED = (2062, 2)
# From this year on the tables of Bikram Sambat are forecasts.
FORECAST_FROM = 2084


def _words(*said: str) -> frozenset[str]:
    return frozenset(folded(word) for words in said for word in words.split())


# From memory; the signs are read as words.
_ABOUT = _words(
    "about around circa ca c approximately perhaps environ env vers peut-être unos quizás cerca",
    "حوالي تقريبا نحو قرابة حدود تقریبا करिब करीब लगभग अन्दाजी প্রায় ገደማ ~ ≈ ± +-",
)
_YEARS = _words(
    "year years old yr yrs y yo aged age an ans âge âgé âgée ai il elle a de años año anos ano",
    "سنة سنوات عام عاما عمره عمرها عمر سال ساله वर्ष बर्ष वर्षको बर्षको साल উমের বছর ዓመት",
)
# Between two ages.
_OR = _words("à to or ou et and أو या") | {"-", "–"}
_PIECES = re.compile(r"\d+|[~≈±–-]|[^\W\d]+(?:['’\u0300-\u036f\u0900-\u0dff]|[^\W\d])*")


class Age(NamedTuple):
    """Whole years that somebody may be, both included."""

    low: int
    high: int


def age_said(text: str) -> Age | None:
    """Read an age: "17", "17 ans", "about 18" (two years more or less), "17-18"; else None.

    In the digits of any script; words other than those of years and of doubt are not read.
    """
    pieces = _PIECES.findall(to_ascii(strip_marks(text)).replace("/", " "))
    numbers = [int(piece) for piece in pieces if piece.isdecimal()]
    words = {folded(piece) or piece for piece in pieces if not piece.isdecimal()}
    if words - _ABOUT - _YEARS - _OR or not 1 <= len(numbers) <= 2:
        return None
    # Two ages have a word between them; "17-" is half of two.
    if not words & _OR if len(numbers) == 2 else words & {"-", "–"}:
        return None
    low, high = numbers[0], numbers[-1]
    if not low <= high <= OLDEST:
        return None
    doubt = ABOUT if words & _ABOUT else 0
    return Age(max(low - doubt, 0), high + doubt)


def born_at(age: Age, on: date) -> Interval:
    """The days on which somebody can have been born who was of this age on that day."""
    return Interval(_last_to_be(age.high + 1, on) + timedelta(1), _last_to_be(age.low, on))


def _last_to_be(years: int, on: date) -> date:
    """The last day of birth of whoever has so many years on that day (29 February: 1 March)."""
    try:
        return on.replace(year=on.year - years)
    except ValueError:
        return date(on.year - years, 2, 28)


def widened(reading: Reading) -> Interval:
    """The days that were said, with the days by which their calendar may be off at either end.

    Hijri by one, by two before 1420; Bikram Sambat by one in Jestha 2062 and from 2084 on. A margin
    of error goes in favour of a child. Source: languages.md 1.2, 1.3 and 1.5.
    """
    days = 0
    if reading.calendar is Calendar.HIJRI:
        days = 1 if reading.year >= SURER_FROM else 2
    elif reading.calendar is Calendar.BIKRAM_SAMBAT:
        disputed = (reading.year, reading.month) == DISPUTED
        days = int(disputed or reading.year >= FORECAST_FROM)
    return reading.interval.widened(days)


def past(found: Iterable[Reading], today: date) -> tuple[Reading, ...]:
    """The readings of which at least one day has come."""
    return tuple(one for one in found if one.interval.earliest <= today)


def enough(reading: Reading, today: date) -> Reading:
    """The year alone, where it says as surely as the day that somebody is of age; else as said.

    Of a child the day is kept: by it they come of age.
    """
    days = days_of(reading.calendar, reading.year)
    if reading.month is None or days is None:
        return reading
    year = reading._replace(month=None, day=None, interval=Interval(*days))
    if year.interval.earliest > today:
        return reading
    kept = widened(year).until(today)
    is_grown = ripeness(Birth(kept.earliest, kept.latest), today) is Ripeness.ADULT
    return year if is_grown else reading


def ages(birth: Birth, day: date) -> Age:
    """The youngest and the oldest that somebody can be on that day."""
    return Age(age_on(birth.latest, day), age_on(birth.earliest, day))
