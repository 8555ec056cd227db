"""Somebody who has just come in by the door: signed in, their password given a moment ago."""

import time

from django.test import Client

from relations.privacy.ending import SURE
from relations.privacy.models import User


def come_in(client: Client, user: User, *, is_sure: bool = True) -> None:
    """Sign a user in; `is_sure` as after a sign-in, otherwise as long after it."""
    client.force_login(user)
    session = client.session
    session[SURE] = time.time() if is_sure else 0
    session.save()
