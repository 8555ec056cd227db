"""Who signs in, as the page of accounts shows them."""

from dataclasses import dataclass
from datetime import datetime

from django.utils.functional import Promise

from . import tries
from .models import AccessEntry, User
from .words import BECAME


@dataclass(frozen=True)
class Account:
    """One who signs in or once did, and until when they are held off."""

    user: User
    held_until: datetime | None
    paper_codes: int
    has_device: bool


def account(user: User) -> Account:
    """What the page of one account shows."""
    return Account(
        user=user,
        held_until=tries.held_off(user),
        paper_codes=user.paper_codes.count(),
        has_device=user.code_devices.filter(is_set_up=True).exists(),
    )


def accounts() -> list[Account]:
    """All accounts, those who may sign in first."""
    return [account(user) for user in User.objects.order_by("-is_active", "username")]


@dataclass(frozen=True)
class Told:
    """One thing that became of an account, by whom; by nobody is at the machine itself."""

    seq: int
    at: datetime
    whose: User
    became: str | Promise
    by: User | None


def told(user: User) -> list[Told]:
    """What others did with accounts, or with their own, since `user` last saw it, newest first."""
    lines = AccessEntry.objects.filter(
        kind="privacy.user", verb__in=BECAME, seq__gt=user.told_up_to
    )
    lines = lines.exclude(by=user.pk).order_by("-seq")
    found = User.objects.in_bulk({key for line in lines for key in (line.key, line.by) if key})
    return [
        Told(line.seq, line.at, found[line.key], BECAME[line.verb], found.get(line.by))
        for line in lines
        if line.key in found
    ]
