"""At which hours of our own day somebody in another zone may be rung, clock changes and all."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from itertools import pairwise, product

from .rules import is_decent
from .values import SafeTimes

# Clocks change on a quarter of an hour, everywhere and by any rule (tzdata, since 1972).
QUARTER = timedelta(minutes=15)
DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Clock:
    """A zone (IANA) and the hours that are safe by it; None is any hour of any day."""

    zone: tzinfo
    safe: SafeTimes | None = None

    def is_decent(self, at: datetime) -> bool:
        """Whether a moment (aware) falls into the safe hours of this clock."""
        return self.safe is None or is_decent(at.astimezone(self.zone), self.safe)


@dataclass(frozen=True, slots=True)
class Span:
    """From when until when, both aware and in our own zone; the end is not included."""

    begin: datetime
    end: datetime

    @property
    def hours(self) -> float:
        """How long it is, as a clock that never changes counts it."""
        return (self.end.astimezone(UTC) - self.begin.astimezone(UTC)).total_seconds() / 3600


def shared(day: date, ours: Clock, theirs: Clock) -> tuple[Span, ...]:
    """Give the hours of our day that are safe by both clocks, earliest first.

    Each moment is turned into both zones by itself, so that a day on which either clock changes
    has its 23 or 25 hours, and an hour that comes twice counts twice. Whole minutes.
    Source: job.md F18, languages.md 4.3.
    """
    found: list[Span] = []
    edges = sorted(_edges(day, ours, theirs))
    for begin, end in pairwise(edges):
        if ours.is_decent(begin) and theirs.is_decent(begin):
            if found and found[-1].end == begin:
                begin = found.pop().begin
            found.append(Span(begin, end))
    return tuple(
        Span(span.begin.astimezone(ours.zone), span.end.astimezone(ours.zone)) for span in found
    )


def next_shared(at: datetime, ours: Clock, theirs: Clock, days: int = 14) -> Span | None:
    """Give the first hours from a moment on that are safe by both clocks; None within `days`."""
    first = at.astimezone(ours.zone).date()
    for day in (first + DAY * step for step in range(days + 1)):
        for span in shared(day, ours, theirs):
            if span.end > at:
                return Span(max(span.begin, at.astimezone(ours.zone)), span.end)
    return None


def _edges(day: date, ours: Clock, theirs: Clock) -> Iterator[datetime]:
    """The moments of our day, in UTC, at which one of the answers may change."""
    begin = datetime.combine(day, time(), ours.zone).astimezone(UTC)
    end = datetime.combine(day + DAY, time(), ours.zone).astimezone(UTC)
    moments = {begin, end}
    quarter = begin
    while (quarter := quarter + QUARTER) < end:
        moments.add(quarter)
    for clock in (ours, theirs):
        moments |= set(_begins_and_ends(day, clock))
    return (moment for moment in moments if begin <= moment <= end)


def _begins_and_ends(day: date, clock: Clock) -> Iterator[datetime]:
    for near in (day - DAY, day, day + DAY):
        for window in clock.safe.on(near) if clock.safe else ():
            for hour, fold in product((window.start, window.end), (0, 1)):
                local = datetime.combine(near, hour, clock.zone).replace(fold=fold)
                yield local.astimezone(UTC)
