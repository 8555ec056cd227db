"""The whole register out: the artist asks, the keeper confirms, the artist takes it once.

Neither can do it alone, nor one account with two roles one after the other. What the keeper
confirms is that it may leave; the file and its passphrase are the artist's, since a keeper sees
counts and no people. An alarm or a hold on every new use ends it at any moment.
"""

from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import Q, QuerySet
from django.http import Http404

from relations.privacy.log import note
from relations.privacy.models import Role, User
from relations.privacy.refused import Refused
from relations.uses.models import Standstill

from . import rules
from .models import Alarm, TakingOut
from .values import NAMES_NOBODY, TakingEnd

KIND = "rights.takingout"
# So long both are told on Today that it was taken.
TOLD_FOR = timedelta(days=30)


def askings() -> QuerySet[TakingOut]:
    """Every asking, newest first, with the two."""
    return TakingOut.objects.select_related("asked_by", "confirmed_by", "ended_by")


def current(at: datetime) -> TakingOut | None:
    """The asking that goes on; none where the last is over by itself."""
    row = askings().filter(is_open=True).first()
    return row if row and over(row, at) is None else None


def ended(at: datetime) -> list[TakingOut]:
    """Those that are over, newest first; one that is over by itself bears its end unsaved."""
    rows = list(askings())
    for row in rows:
        if row.is_open:
            row.ended_how = over(row, at) or ""
    return [row for row in rows if row.ended_how]


def asking_or_404(key: UUID) -> TakingOut:
    """One of them; Http404 where there is none."""
    found = askings().filter(pk=key).first()
    if found is None:
        raise Http404
    return found


def over(row: TakingOut, at: datetime) -> TakingEnd | None:
    """Why an open asking is over by itself; None while it goes on."""
    return rules.taking_over(
        row.asked_at,
        row.confirmed_at,
        at,
        is_alarm=_alarms(row.asked_at).exists(),
        is_held_back=_held_back(row.asked_at).exists(),
        both_stand=_stands(row.asked_by, Role.ARTIST)
        and (row.confirmed_by is None or _stands(row.confirmed_by, Role.KEEPER)),
    )


def _stands(user: User, role: Role) -> bool:
    return user.is_active and user.is_one_of(role)


def _alarms(since: datetime) -> QuerySet[Alarm]:
    """What was lost since, or is not closed yet; a blank form names nobody."""
    rows = Alarm.objects.exclude(what__in=NAMES_NOBODY).order_by()
    return rows.filter(Q(closed_on=None) | Q(known_at__gte=since))


def _held_back(since: datetime) -> QuerySet[Standstill]:
    return Standstill.objects.filter(Q(is_current=True) | Q(laid_at__gte=since)).order_by()


@transaction.atomic
def ask(*, reason: str, by: User, at: datetime) -> TakingOut:
    """The artist asks, and says what it is for; while one goes on a second press finds it.

    Refused: artist_only, no_reason, no_keeper, taking_alarm, taking_held_back.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    if not reason.strip():
        raise Refused("no_reason")
    row = TakingOut.objects.select_for_update().filter(is_open=True).first()
    if row is not None:
        why = over(row, at)
        if why is None:
            return row
        _end(row, why, None, at)
    if not User.objects.in_role(Role.KEEPER).exists():
        raise Refused("no_keeper")
    if _alarms(at).exists():
        raise Refused("taking_alarm")
    if _held_back(at).exists():
        raise Refused("taking_held_back")
    made = TakingOut.objects.create(asked_at=at, asked_by=by, reason=reason.strip())
    note(by, "asked", KIND, made.pk)
    return made


@transaction.atomic
def confirm(*, asking: TakingOut, by: User, at: datetime) -> TakingOut:
    """The keeper says that it may leave; a second press finds it said.

    That the password was right is for whoever calls. Refused: keeper_only, one_for_both, and as
    `_going_on` says.
    """
    _for_the_keeper(by)
    row = _going_on(asking, at)
    if row.asked_by == by:
        raise Refused("one_for_both")
    if row.confirmed_at is None:
        row.confirmed_at, row.confirmed_by = at, by
        row.save(update_fields=["confirmed_at", "confirmed_by"])
        note(by, "confirmed", KIND, row.pk)
    return row


@transaction.atomic
def refuse(*, asking: TakingOut, by: User, at: datetime) -> TakingOut:
    """The keeper says no, before or after a yes. Refused: keeper_only, and as `_going_on` says."""
    _for_the_keeper(by)
    return _end(_going_on(asking, at), TakingEnd.REFUSED, by, at)


@transaction.atomic
def call_off(*, asking: TakingOut, by: User, at: datetime) -> TakingOut:
    """It does not come about. Refused: artist_or_keeper, and as `_going_on` says."""
    if not by.is_one_of(Role.ARTIST, Role.KEEPER):
        raise Refused("artist_or_keeper")
    return _end(_going_on(asking, at), TakingEnd.CALLED_OFF, by, at)


@transaction.atomic
def may_take(*, asking: TakingOut, by: User, at: datetime) -> TakingOut:
    """What must hold before the file is made, and once more as it is handed over.

    Refused: artist_only, not_confirmed, and as `_going_on` says.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    row = _going_on(asking, at)
    if row.confirmed_at is None:
        raise Refused("not_confirmed")
    return row


@transaction.atomic
def take(*, asking: TakingOut, digest: str, by: User, at: datetime) -> TakingOut:
    """Note that the file with this SHA-256 is handed over: of two at once, one finds it taken.

    To be called when the file is made, and before a byte of it leaves. Refused as `may_take`.
    """
    row = may_take(asking=asking, by=by, at=at)
    row.digest = digest
    return _end(row, TakingEnd.TAKEN, by, at)


def _for_the_keeper(by: User) -> None:
    if not by.is_one_of(Role.KEEPER):
        raise Refused("keeper_only")


def _going_on(asking: TakingOut, at: datetime) -> TakingOut:
    """The asking as it stands now, held until the transaction ends.

    Refused: taking_<how it ended>, by a press or by itself.
    """
    rows = TakingOut.objects.select_for_update(of=("self",)).select_related("asked_by")
    row = rows.get(pk=asking.pk)
    why = row.ended_how or over(row, at)
    if why:
        raise Refused(f"taking_{why}")
    return row


def _end(row: TakingOut, how: TakingEnd, by: User | None, at: datetime) -> TakingOut:
    row.is_open, row.ended_at, row.ended_how, row.ended_by = None, at, how, by
    row.save()
    note(by, how, KIND, row.pk)
    return row


def on_today(at: datetime) -> dict[str, Any]:
    """What artist and keeper find on Today: the asking that goes on, and what was taken of late."""
    lately = Q(ended_how=TakingEnd.TAKEN, ended_at__gt=at - TOLD_FOR)
    rows = list(askings().filter(Q(is_open=True) | lately))
    going_on = [row for row in rows if row.is_open and over(row, at) is None]
    return {"row": next(iter(going_on), None), "taken": [row for row in rows if not row.is_open]}
