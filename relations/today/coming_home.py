"""Brings a travelling set home: what was written in it is taken in once, then it is wiped."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any
from uuid import UUID

from django.utils import timezone

from relations.meetings import travelling
from relations.meetings.models import TravellingSet
from relations.privacy import sets
from relations.privacy.keys import keyring
from relations.privacy.models import OutboxEntry
from relations.privacy.opening import guard_process
from relations.privacy.sets import NoSet
from relations.rights.models import Alarm

from . import outbox

LOST = "set_ended"  # the doubt under which entries come out of a set that was ended


@dataclass(frozen=True)
class Came:
    """What came of a set: how many entries it held, how many were new, how many wait for a look.

    `was_ended`: an alarm, here or in the set, or a giving up came first, so only stops acted.
    """

    held: int
    new: int
    waiting: int
    was_ended: bool


def bring(root: Path) -> Came:
    """Take in what was written in the set at `root`, note that it is home, and wipe it.

    Killed at any moment it is done again: an entry is known by its own key, and the set goes last.
    Raise NoSet where there is none of this register; outbox.NotNow where our own clock is behind:
    nothing is wiped then.
    """
    said = sets.statement(root)
    row = travelling.found(UUID(said["key"]))
    if row is None:
        raise NoSet("This set was made by another register. Bring it home there.")
    came = Came(0, 0, 0, was_ended=False)
    if row.came_home_at is None:
        came = _take_in(row, sets.inside(root, "come_home", {"secret": row.secret}))
        travelling.come_home(row=row, at=timezone.now())
    sets.wipe(root)
    return came


def _take_in(row: TravellingSet, told: Mapping[str, Any]) -> Came:
    was_ended = bool(row.ended_at or told["alarms"])
    found = [
        outbox.take_in(parcel=_parcel(one), by=row.made_for, doubt=LOST if was_ended else "")
        for one in told["entries"]
    ]
    return Came(
        held=len(found),
        new=sum(is_new for _, is_new in found),
        waiting=sum(entry.state in outbox.WAITS for entry, _ in found),
        was_ended=was_ended,
    )


def _parcel(one: Mapping[str, Any]) -> outbox.Parcel:
    """An entry as its telephone would send it now: how wrong its clock was, it is still."""
    phone_at = one["phone_at"] and datetime.fromisoformat(one["phone_at"])
    received = datetime.fromisoformat(one["received_at"])
    moved = phone_at and phone_at + (timezone.now() - received)
    return outbox.Parcel(UUID(one["key"]), one["sealed"], moved)


def written(secret: str) -> dict[str, Any]:
    """In the set's own process: what its outbox holds, in the order in which it came, still sealed.

    Raise WrongSecret where the register's secret does not open it.
    """
    guard_process()
    keyring.unlock(secret)
    kept = OutboxEntry.objects.order_by("received_at", "pk")
    entries = [
        {
            "key": entry.pk,
            "sealed": entry.said["sealed"],
            "phone_at": entry.phone_at,
            "received_at": entry.received_at,
        }
        for entry in kept
    ]
    return {"entries": entries, "alarms": Alarm.objects.count()}
