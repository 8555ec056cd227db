"""Days as people say them, kept as an interval of Gregorian days."""

import re
from dataclasses import dataclass
from datetime import date, timedelta

# The first whole year of the Gregorian calendar. It also keeps Hijri (14xx) and Solar Hijri
# (13xx, 14xx) years from being taken for Gregorian ones.
FIRST_YEAR = 1583

# What is written in figures alone, day first, or year first.
SHAPES = (
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

    def until(self, day: date) -> "Interval":
        """Give what of it has come by `day`; FutureDayError where none has."""
        if self.earliest > day:
            raise FutureDayError
        return Interval(self.earliest, min(self.latest, day))

    def widened(self, days: int) -> "Interval":
        """Give it with so many days more at either end."""
        return Interval(self.earliest - timedelta(days), self.latest + timedelta(days))
