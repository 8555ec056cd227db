"""Who signs in, as the page of accounts shows them."""

from dataclasses import dataclass
from datetime import datetime

from . import tries
from .models import User


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
