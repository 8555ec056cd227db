"""Reads about the light: of the days of a trip, and of a meeting at its hour."""

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from django.utils import timezone

from relations.languages.daylight import Light, Sun, light, sun_at

from .models import Meeting, Trip

# A trip is some weeks; nobody plans the light of more days at once.
MOST_DAYS = 60


@dataclass(frozen=True)
class Lit:
    """The light of one day, and where the sun stands at the hour of a meeting."""

    on: date
    light: Light
    at: datetime | None = None
    sun: Sun | None = None


def of_trip(trip: Trip) -> list[Lit]:
    """Each day of a trip; empty where no place is kept for it. Hours in the project's zone."""
    if trip.latitude is None or trip.longitude is None:
        return []
    count = min((trip.last_day - trip.first_day).days + 1, MOST_DAYS)
    days = [trip.first_day + timedelta(days=step) for step in range(count)]
    return [Lit(on, _light(on, trip)) for on in days]


def of_meeting(meeting: Meeting) -> Lit | None:
    """The light of a meeting with the camera at the coarse place of its trip; None if unknown."""
    trip, at = meeting.trip, meeting.at
    if not meeting.with_camera or trip is None or trip.latitude is None or at is None:
        return None
    on = timezone.localdate(at)
    return Lit(on, _light(on, trip), at, sun_at(at, *_where(trip)))


def of_day(on: date) -> Light | None:
    """The light of any day at the coarse place of our work: of the trip it lies in, else of the
    last trip for which a place is kept. None where no trip has one."""
    placed = Trip.objects.filter(latitude__isnull=False)
    trip = placed.filter(first_day__lte=on, last_day__gte=on).first()
    trip = trip or placed.order_by("-first_day").first()
    return _light(on, trip) if trip else None


def _where(trip: Trip) -> tuple[float, float]:
    return float(trip.latitude or 0), float(trip.longitude or 0)


def _light(on: date, trip: Trip) -> Light:
    """The light of a day, its hours to the nearest minute: no finer can be promised."""
    found = light(on, *_where(trip), timezone.get_default_timezone())
    return replace(
        found,
        rise=found.rise and _minute(found.rise),
        set=found.set and _minute(found.set),
        low=tuple((_minute(begin), _minute(end)) for begin, end in found.low),
    )


def _minute(at: datetime) -> datetime:
    return (at + timedelta(seconds=30)).replace(second=0, microsecond=0)
