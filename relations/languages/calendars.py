"""Days as people say them, kept as an interval of Gregorian days."""

import re
from calendar import monthrange
from dataclasses import dataclass
from datetime import date

from .digits import to_ascii
from .direction import strip_marks

# The first whole year of the Gregorian calendar. It also keeps Hijri (14xx) and Solar Hijri
# (13xx, 14xx) years from being taken for Gregorian ones.
FIRST_YEAR = 1583

_SHAPES = (
    re.compile(r"(?P<y>\d{4})"),
    re.compile(r"(?P<m>\d{1,2})[-/. ](?P<y>\d{4})"),
    re.compile(r"(?P<y>\d{4})[-/. ](?P<m>\d{1,2})"),
    re.compile(r"(?P<d>\d{1,2})(?P<s>[-/. ])(?P<m>\d{1,2})(?P=s)(?P<y>\d{4})"),
    re.compile(r"(?P<y>\d{4})(?P<s>[-/. ])(?P<m>\d{1,2})(?P=s)(?P<d>\d{1,2})"),
)


class FutureDayError(ValueError):
    """The day said lies wholly after today."""


@dataclass(frozen=True)
class Interval:
    """The first and the last day that something can have happened, both included."""

    earliest: date
    latest: date

    def __post_init__(self) -> None:
        """Refuse an interval that ends before it begins (ValueError)."""
        if self.earliest > self.latest:
            msg = "an interval cannot end before it begins"
            raise ValueError(msg)

    @property
    def is_exact(self) -> bool:
        """One single day."""
        return self.earliest == self.latest


def parse_said(text: str, today: date | None = None) -> Interval | None:
    """Read a Gregorian day, month or year as typed; None when it is none of these.

    Read: 2008-03-05, 5/3/2008 (day first, as French and Spanish write it), 03/2008, 2008-03,
    2008; with - / . or a space, in the digits of any script. Not read: words, "about 18",
    two-figure years, years before 1583.
    With `today`, days wholly after it raise FutureDayError, and an interval that runs past it
    ends on it. Source: languages.md 1.1 and 1.5 (store the interval and what was said).
    """
    typed = " ".join(to_ascii(strip_marks(text)).split())
    said = next((match for shape in _SHAPES if (match := shape.fullmatch(typed))), None)
    if said is None:
        return None
    interval = _interval(**{k: int(v) for k, v in said.groupdict().items() if k in "ymd"})
    if interval is None or today is None:
        return interval
    if interval.earliest > today:
        raise FutureDayError
    return Interval(interval.earliest, min(interval.latest, today))


def _interval(y: int, m: int | None = None, d: int | None = None) -> Interval | None:
    """Give the days of a year, a month or a day; None where the calendar has no such day."""
    if y < FIRST_YEAR:
        return None
    if m is None:
        return Interval(date(y, 1, 1), date(y, 12, 31))
    if not 1 <= m <= 12:
        return None
    last = monthrange(y, m)[1]
    if d is None:
        return Interval(date(y, m, 1), date(y, m, last))
    if not 1 <= d <= last:
        return None
    return Interval(date(y, m, d), date(y, m, d))
