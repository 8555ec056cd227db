"""Somebody who has just come in by the door: signed in, their password given a moment ago."""

import time
import uuid
from typing import Any

from django.test import Client

from relations.privacy.ending import SURE_AT
from relations.privacy.models import User


def come_in(client: Client, user: User, *, is_sure: bool = True) -> None:
    """Sign a user in; `is_sure` as after a sign-in, otherwise as long after it."""
    client.force_login(user)
    session = client.session
    session[SURE_AT] = time.time() if is_sure else 0
    session.save()


def press(client: Client, address: str, token: uuid.UUID | None = None, **said: str) -> Any:
    """Send a form of the accounts with its token: a new one, or the one it was sent with before."""
    return client.post(address, {"token": str(token or uuid.uuid4()), **said})
