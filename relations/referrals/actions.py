"""What is made to be shown: kept by number, with what it said, and noted in the access log."""

from collections.abc import Callable
from datetime import datetime
from typing import Any
from uuid import uuid4

from django.db import transaction
from django.db.models import Max

from relations.privacy.log import note
from relations.privacy.models import User

from . import shared
from .models import Shared
from .said import as_json
from .sharing import Part, Sharing

KIND = "map"


@transaction.atomic
def share(*, by: User, at: datetime) -> Shared:
    """Say what may leave the house now, held to what was said last, and keep it."""
    return _kept(Sharing.DRAWING, lambda: as_json(shared.now_said(shared.whole())), by, at)


@transaction.atomic
def keep_map(*, part: Part, group: str, people: int, by: User, at: datetime) -> Shared:
    """Keep that a map in disguise was made: of so many people of a group, or of some line.

    Which line is not kept: it would be somebody's code.
    """
    key = group if part is Part.GROUP else ""
    said = {"part": part.value, "group": key, "people": people}
    return _kept(Sharing.MAP, lambda: said, by, at)


def _kept(kind: Sharing, say: Callable[[], dict[str, Any]], by: User, at: datetime) -> Shared:
    """Add one row. The line in the log comes first: it lets one in at a time, so that what is said
    was held to the newest.
    """
    key = uuid4()
    note(by, "shared", KIND, key)
    last = Shared.objects.aggregate(last=Max("number"))["last"] or 0
    return Shared.objects.create(id=key, number=last + 1, kind=kind, at=at, by=by, said=say())
