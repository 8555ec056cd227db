"""The keeper's hold on every new use, for the time when the artist is gone or cannot be asked."""

from datetime import date, datetime

from django.db import transaction
from django.db.models import QuerySet

from relations.people.closed import is_closed
from relations.privacy.log import note
from relations.privacy.models import Role, User
from relations.privacy.refused import Refused

from .models import PlannedUse, Standstill

KIND = "uses.standstill"


def current() -> Standstill | None:
    """The hold that lies on every new use now, if one does."""
    return Standstill.objects.filter(is_current=True).select_related("laid_by").first()


def lifted() -> QuerySet[Standstill]:
    """Those that lay before, newest first."""
    rows = Standstill.objects.filter(is_current=None).select_related("lifted_by")
    return rows.order_by("-laid_at")


def plans_ahead(on: date) -> int:
    """How many planned uses have not begun."""
    return PlannedUse.objects.filter(dropped_on=None, starts_on__gt=on).count()


def may_be_used_anew() -> bool:
    """Whether new uses may be made: no hold lies on them, and the project is not closed."""
    return not is_closed() and not Standstill.objects.filter(is_current=True).exists()


def refuse_new_uses() -> None:
    """Stop whoever is about to make a new use where none may be made. Refused: no_new_uses.

    What is shown already is still noted in the register: it says what is, whoever agreed to it.
    """
    if not may_be_used_anew():
        raise Refused("no_new_uses")


@transaction.atomic
def lay(*, by: User, at: datetime) -> Standstill:
    """Let nobody make a new use from now on; a second press finds the first.

    What was cleared and given out before stays; a Stop acts as ever. Refused: keeper_only.
    """
    _for_the_keeper(by)
    row, is_new = Standstill.objects.get_or_create(
        is_current=True, defaults={"laid_at": at, "laid_by": by}
    )
    if is_new:
        note(by, "laid", KIND, row.pk)
    return row


@transaction.atomic
def lift(*, sentence: str, by: User, at: datetime) -> None:
    """New uses may be made again, and why; a second press finds it lifted.

    Refused: keeper_only, no_sentence.
    """
    _for_the_keeper(by)
    row = Standstill.objects.select_for_update().filter(is_current=True).first()
    if row is None:
        return
    if not sentence.strip():
        raise Refused("no_sentence")
    row.is_current, row.lifted_at, row.lifted_by = None, at, by
    row.sentence = sentence.strip()
    row.save(update_fields=["is_current", "lifted_at", "lifted_by", "sentence"])
    note(by, "lifted", KIND, row.pk)


def _for_the_keeper(by: User) -> None:
    if not by.is_one_of(Role.KEEPER):
        raise Refused("keeper_only")
