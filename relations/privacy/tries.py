"""Wrong tries at a password or a code: counted before they are looked at, held off after five."""

import ipaddress
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import TypeVar
from uuid import UUID

from django.db import transaction
from django.db.models import F
from django.http import HttpRequest
from django.utils import timezone

from .fields import mark
from .log import note
from .models import User, WrongTries

FROM_ONE_ADDRESS, HELD = 5, timedelta(minutes=15)
# NIST SP 800-63B-4, section 3.2.2: no more than 100 in a row, wherever they come from.
FROM_ANYWHERE, HELD_EVERYWHERE = 100, timedelta(days=1)

Found = TypeVar("Found")
# For each mark: how many tries are open, and for how long none is after them.
Limits = dict[bytes, tuple[int, timedelta]]
# What the access log says was tried at: the kind of a row, and its key where it is there.
About = tuple[str, UUID | None]


class HeldOff(RuntimeError):  # noqa: N818 # it is no fault
    """Too many wrong tries; nothing more is looked at until then."""

    def __init__(self, until: datetime) -> None:
        super().__init__("held off")
        self.until = until


def address_of(request: HttpRequest) -> str:
    """Where a try comes from; of IPv6 the network, since one connection has a whole one of them."""
    said = str(request.META.get("REMOTE_ADDR", ""))
    try:
        address = ipaddress.ip_address(said)
    except ValueError:
        return ""
    if address.version == 6:
        return str(ipaddress.ip_network((address.packed, 64), strict=False))
    return said


def attempt(
    request: HttpRequest,
    username: str,
    look: Callable[[], Found | None],
    *,
    about: About | None = None,
) -> Found | None:
    """What `look` finds, None where the try was wrong; raise HeldOff where no try is open.

    The try is counted first, so that many at the same moment are no more than five. A right one
    is taken off again; `forget` ends the row of wrong ones once somebody is signed in. With
    `about` it is no user who is tried at, but another door, named by `username`.
    """
    limits = _limits(request, username)
    user = None if about else User.objects.filter(username=username).first()
    about = about or ("privacy.user", user.pk if user else None)
    until = _count(limits, user)
    if until:
        raise HeldOff(until)
    found = look()
    if found is not None:
        _take_off(limits)
    elif until := _hold(limits, about):
        raise HeldOff(until)
    return found


def _limits(request: HttpRequest, username: str) -> Limits:
    return {
        mark(f"try|{username}|{address_of(request)}"): (FROM_ONE_ADDRESS, HELD),
        mark(f"try|{username}"): (FROM_ANYWHERE, HELD_EVERYWHERE),
    }


@transaction.atomic
def _count(limits: Limits, user: User | None) -> datetime | None:
    """Count a try on each row; the time until which no try is open, where there is one."""
    at = timezone.now()
    WrongTries.objects.filter(last_at__lt=at - HELD_EVERYWHERE).delete()
    rows = []
    for key, (most, held) in limits.items():
        row, _ = WrongTries.objects.select_for_update().get_or_create(
            mark=key, defaults={"user": user, "last_at": at}
        )
        # A full row without an end: the tries that filled it are still being looked at.
        end = row.held_until or row.last_at + held
        if end <= at:
            row.count, row.held_until = 0, None
        if row.count >= most:
            return end
        rows.append(row)
    for row in rows:
        row.count += 1
        row.last_at = at
        # Not whose it is: a name that nobody has would be another statement.
        row.save(update_fields=["count", "last_at", "held_until"])
    return None


@transaction.atomic
def _hold(limits: Limits, about: About) -> datetime | None:
    """Note a wrong try; until when none is open, where it was the last one."""
    note(None, "wrong_try", *about)
    at, ends = timezone.now(), []
    for key, (most, held) in limits.items():
        row = WrongTries.objects.select_for_update().filter(mark=key, count__gte=most).first()
        if row:
            row.held_until = at + held
            row.save()
            ends.append(row.held_until)
    if ends:
        note(None, "held_off", *about)
    return max(ends, default=None)


def _take_off(limits: Limits) -> None:
    WrongTries.objects.filter(mark__in=limits, count__gt=0).update(count=F("count") - 1)


def forget(request: HttpRequest, username: str) -> None:
    """Somebody is signed in: the wrong tries before it count no more."""
    WrongTries.objects.filter(mark__in=_limits(request, username)).delete()


def held_off(user: User) -> datetime | None:
    """Until when a person cannot sign in from some address; None where they can."""
    now = timezone.now()
    rows = user.wrong_tries.filter(held_until__gt=now).values_list("held_until", flat=True)
    return max((end for end in rows if end), default=None)


def free(user: User) -> None:
    """Let a person try again at once, from every address."""
    user.wrong_tries.all().delete()
