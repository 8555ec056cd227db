"""Who is in a frame without having sat: noted by place, asked or not, and what follows from it."""

from datetime import date, datetime
from typing import TYPE_CHECKING

from django.db import transaction

from relations.documents.models import Sheet
from relations.documents.values import PaperKind
from relations.people import actions as people
from relations.privacy.refused import Refused

from .models import Picture, Stranger
from .values import Became, Others, others

if TYPE_CHECKING:
    from relations.privacy.models import User


@transaction.atomic
def settle(
    *,
    picture: Picture,
    place: int,
    became: str,
    on: date,
    by: "User",
    at: datetime,
    serial: str = "",
) -> Stranger:
    """Note somebody who did not sit, by their place from the left, and what became of it.

    Noting the same place again says what is so now; whether the picture may be shown follows from
    all of them. A yes names the form on which it was given, whose scan is filed.
    Refused: erased, sitter_there, no_paper for a yes without such a form.
    """
    if picture.others == Others.ERASED:
        raise Refused("erased")
    if picture.appearances.filter(place=place).exists():
        raise Refused("sitter_there")
    said_yes = became == Became.SAID_YES
    paper = _filed(serial) if said_yes else None
    if said_yes and paper is None:
        raise Refused("no_paper")
    said = {"became": Became(became), "paper": paper, "noted_on": on, "noted_by": by}
    row, _ = Stranger.objects.update_or_create(picture=picture, place=place, defaults=said)
    _follow(picture, by, at)
    return row


def _filed(serial: str) -> Sheet | None:
    found = Sheet.objects.filter(serial=serial, kind=PaperKind.FORM, scans__isnull=False)
    return found.first()


def _follow(picture: Picture, by: "User", at: datetime) -> None:
    now = others([Became(one.became) for one in picture.strangers.all()])
    if picture.others != now:
        first = picture.appearances.select_related("person")[0].person
        people.mend(row=picture, changes={"others": now}, person=first, by=by, at=at)
