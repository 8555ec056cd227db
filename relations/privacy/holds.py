"""Holds: nothing moves until somebody has looked, and only a sentence lifts one (job.md 43)."""

from datetime import date, datetime, timedelta
from typing import TypeVar

from django.db import models
from django.http import Http404
from django.utils import timezone

from .models import Hold, Role, User
from .refused import Refused

# A hold is looked at again after this many days at the latest (job.md A 43).
HOLD_DAYS = 14
AHold = TypeVar("AHold", bound=Hold)


def lay(
    holds: "models.Manager[AHold]", *, by: User, at: datetime, next_look_on: date | None = None
) -> AHold:
    """Lay a hold among the `holds` of one row. Anyone may; a second one finds the first.

    It is looked at again within 14 days, on the last of them if no day is named.
    Refused: look_within_14_days.
    """
    on = timezone.localdate(at)
    latest = on + timedelta(days=HOLD_DAYS)
    look = next_look_on or latest
    if not on <= look <= latest:
        raise Refused("look_within_14_days")
    laid, _is_new = holds.get_or_create(
        lifted_at=None, defaults={"laid_at": at, "laid_by": by, "next_look_on": look}
    )
    return laid


def lift(hold: AHold, *, sentence: str, by: User, at: datetime) -> AHold:
    """Lift a hold with a sentence of what was found. Refused: artist_or_keeper, no_sentence."""
    if not by.is_one_of(Role.ARTIST, Role.KEEPER):
        raise Refused("artist_or_keeper")
    if not sentence.strip():
        raise Refused("no_sentence")
    hold.lifted_at, hold.lifted_by, hold.sentence = at, by, sentence.strip()
    hold.save(update_fields=["lifted_at", "lifted_by", "sentence"])
    return hold


def lying(holds: "models.Manager[AHold]") -> AHold | None:
    """The one of these holds that lies now."""
    return holds.filter(lifted_at=None).first()


def lying_or_404(holds: "models.Manager[AHold]") -> AHold:
    """The one of these holds that lies now; Http404 where none does."""
    found = lying(holds)
    if found is None:
        raise Http404
    return found
