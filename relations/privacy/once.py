"""A form that is sent twice is acted on once."""

import uuid
from collections.abc import Callable

from django.db import transaction

from .models import Posted, User


@transaction.atomic
def once(token: uuid.UUID, user: User, act: Callable[[], str]) -> str:
    """Run `act` and return the address it leads to, unless `user` sent `token` before.

    A second sending returns the first one's address and changes nothing. Where `act` raises,
    everything is undone and the token stays unused. Two sendings at the same moment wait for
    each other: the token is written first, and no two rows may hold it.
    """
    posted, is_new = Posted.objects.get_or_create(token=token, by=user)
    if is_new:
        posted.address = act()
        posted.save(update_fields=["address"])
    return posted.address


def was_sent(token: str, user: User) -> bool:
    """Whether `user` sent this token before and was answered: nothing more is asked then."""
    try:
        return Posted.objects.filter(token=uuid.UUID(token), by=user).exists()
    except ValueError:
        return False
