"""The travelling sets that the register knows: made, come home, or ended before they did."""

from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from relations.privacy.log import note
from relations.privacy.models import User
from relations.privacy.refused import Refused

from .models import TravellingSet, Trip
from .values import SetEnd

KIND = "meetings.travellingset"


def out() -> QuerySet[TravellingSet]:
    """Those that are not home and not ended; some may have run out by their day."""
    return TravellingSet.objects.filter(came_home_at=None, ended_at=None)


@transaction.atomic
def make(*, trip: Trip, made_for: User, secret: str, at: datetime) -> TravellingSet:
    """Note that a set is made, before it is, by whoever could open the home at the machine itself.

    Refused: trip_over, set_is_out (the last one of this trip and user is neither home nor ended).
    """
    if trip.last_day < timezone.localdate(at):
        raise Refused("trip_over")
    if out().filter(trip=trip, made_for=made_for).exists():
        raise Refused("set_is_out")
    row = TravellingSet.objects.create(
        trip=trip, made_for=made_for, made_at=at, last_day=trip.last_day, secret=secret
    )
    note(None, "made_set", KIND, row.pk)
    return row


@transaction.atomic
def end_all(*, at: datetime, how: SetEnd = SetEnd.ALARM, **only: Any) -> int:
    """End every set that is out, or `only` those of a trip or with a key; give how many.

    It is not wiped from afar: it is off line, sealed, and ends by its day. From now on what comes
    out of it waits to be looked at, a stop excepted, which acts on hearing.
    """
    return out().filter(**only).update(ended_at=at, ended_how=how)


def ended_by_alarm(at: datetime) -> QuerySet[TravellingSet]:
    """The sets that an alarm known at this hour ended."""
    rows = TravellingSet.objects.filter(ended_how=SetEnd.ALARM, ended_at=at)
    return rows.select_related("trip", "made_for")


def found(key: UUID) -> TravellingSet | None:
    """The row of a set by the key that it says; None where it is of another register."""
    return TravellingSet.objects.filter(pk=key).select_related("trip", "made_for").first()


@transaction.atomic
def come_home(*, row: TravellingSet, at: datetime) -> None:
    """Note that all that was written in a set is here; from now on nothing opens it any more."""
    held = TravellingSet.objects.select_for_update().get(pk=row.pk)
    if held.came_home_at is None:
        held.came_home_at, held.secret = at, ""
        held.save(update_fields=["came_home_at", "secret"])
        note(None, "set_came_home", KIND, held.pk)


def of_trip(trip: Trip) -> QuerySet[TravellingSet]:
    """The sets that were made of a trip, newest first, for its page."""
    return TravellingSet.objects.filter(trip=trip).select_related("made_for")
