"""What is written about the artist's stays: their days, and the coarse place of their light."""

from datetime import date
from decimal import Decimal

from django.db import transaction

from relations.privacy.models import User
from relations.privacy.refused import Refused

from .models import Trip


@transaction.atomic
def open_trip(
    *,
    code: str,
    first_day: date,
    last_day: date,
    by: User,
    currency: str = "",
    print_budget: Decimal | None = None,
) -> Trip:
    """Open a trip, both days included. Refused: code_taken, backwards."""
    if last_day < first_day:
        raise Refused("backwards")
    if Trip.objects.filter(code=code).exists():
        raise Refused("code_taken")
    money = {"currency": currency, "print_budget": print_budget}
    return Trip.objects.create(code=code, first_day=first_day, last_day=last_day, **money)


@transaction.atomic
def place_trip(*, trip: Trip, latitude: Decimal, longitude: Decimal, by: User) -> Trip:
    """Keep a coarse place for the light of a trip, rounded to a tenth of a degree.

    Whatever was typed, no more is kept: some ten kilometres. Refused: not_on_earth.
    """
    if abs(latitude) > 90 or abs(longitude) > 180:
        raise Refused("not_on_earth")
    trip.latitude, trip.longitude = round(latitude, 1), round(longitude, 1)
    trip.save(update_fields=["latitude", "longitude"])
    return trip
