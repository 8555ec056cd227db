"""Invented prints that are ready for a round in three quarters, written directly."""

from datetime import time
from decimal import Decimal
from typing import Any

from relations.meetings.models import Trip
from relations.people.models import Participant
from relations.prints import walking
from relations.prints.models import Print, QuarterMinutes, Round
from tests import cast
from tests.prints.frames import made
from tests.rows import make

DOCK, QUAY, MOLE = "la Forme", "quai des Ferries", "le Môle"
# On this day the sun sets at 17:08 there (tests/outside/test_light.py checks such days).
PORT = {"latitude": Decimal("43.3"), "longitude": Decimal("5.4")}


def quarters() -> None:
    """Minutes between three quarters."""
    for start, end, minutes in ((DOCK, QUAY, 12), (DOCK, MOLE, 20), (QUAY, MOLE, 9)):
        QuarterMinutes.objects.get_or_create(start=start, end=end, minutes=minutes)


def light() -> Trip:
    """A trip whose coarse place is known, so that the sun is."""
    return make(Trip, **PORT)


def ready(who: Participant, code: str, quarter: str = DOCK, **rest: Any) -> Print:
    """A checked print with a safe way."""
    said = {"state": "checked", "is_safe": True, "place": "the blue gate", **rest}
    return made(who, code, quarter=quarter, **said)


def planned(*prints: Print, **rest: Any) -> Round:
    """A round of today at ten."""
    quarters()
    said = {"on": cast.TODAY, "starts_at": time(10), "ends_by": time(16), **rest}
    said.setdefault("walker", cast.assistant())
    return walking.plan_round(prints=prints, at=cast.moment(), **said)


def out(*prints: Print, **rest: Any) -> Round:
    """A round that has set out."""
    row = planned(*prints, **rest)
    return walking.set_out(round=row, by=row.by, at=cast.moment())
