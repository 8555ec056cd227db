"""The use register: what is written of a use that happened, and how it is mended later."""

import json
from datetime import date, datetime
from typing import Any

from django.core.serializers.json import DjangoJSONEncoder
from django.db import transaction

from relations.privacy.models import Mending, User
from relations.privacy.refused import Refused

from .models import Shown

# What changes in the life of a use: it is moved, ends, is copied, changes hands.
MENDED = ("place", "ends_on", "press_day", "copies", "holder", "reach_holder")


@transaction.atomic
def mend_shown(
    *,
    shown: Shown,
    place: str,
    ends_on: date | None,
    press_day: date | None,
    copies: int | None,
    holder: str,
    reach_holder: str,
    by: User,
    at: datetime,
) -> Shown:
    """Write down what became of a use: its end, copies, and who holds the files now.

    What stood there before stays, sealed: who once held a file may still have it.
    Refused: artist_only, no_holder, ends_before.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    if not holder.strip():
        raise Refused("no_holder")
    if ends_on is not None and ends_on < shown.starts_on:
        raise Refused("ends_before")
    new: dict[str, Any] = {
        "place": place,
        "ends_on": ends_on,
        "press_day": press_day,
        "copies": copies,
        "holder": holder.strip(),
        "reach_holder": reach_holder,
    }
    old = {name: getattr(shown, name) for name in MENDED if getattr(shown, name) != new[name]}
    if old:
        kept = json.loads(json.dumps(old, cls=DjangoJSONEncoder))
        Mending.objects.create(kind="uses.shown", key=shown.pk, at=at, by=by, old=kept)
        for name in old:
            setattr(shown, name, new[name])
        shown.save(update_fields=list(old))
    return shown


def held_before(shown: Shown) -> list[tuple[datetime, str]]:
    """Who held the files before, newest first, each with the moment from which they did not."""
    rows = Mending.objects.filter(kind="uses.shown", key=shown.pk).order_by("-at")
    return [(row.at, row.old["holder"]) for row in rows if "holder" in row.old]
