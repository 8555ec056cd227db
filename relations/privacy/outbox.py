"""The pair of keys to which telephones seal what is written without a signal, and its unsealing.

An entry is JSON under a fresh AES-256-GCM key, and that key under the newest public key by RSA-OAEP
with SHA-256 (RFC 8017, section 7.1): the telephone itself cannot open it again. Private keys are
sealed fields, so they are in a backup and are put under a new master with everything else. A rekey
makes a new pair as well; the older ones stay, since a telephone may still hold what they open.
"""

import base64
import binascii
import json
import secrets
from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.db import transaction

from .crypt import SealBroken, new_pair, unwrap, unwrap_with, wrap, wrap_with
from .models import LogHead, OutboxKey

LONGEST = 16 * 1024  # bytes of an entry, sealed: three short forms fit a hundred times
PARTS = ("wrapped", "nonce", "closed")


def stand() -> None:
    """There is a pair of keys: made at the first opening, found at every other."""
    if newest() is None:
        first_pair()


@transaction.atomic
def first_pair() -> None:
    """Make a pair where there is none; two servers that open at one moment make one."""
    LogHead.objects.get_or_create(only=True)
    LogHead.objects.select_for_update().get(only=True)
    if newest() is None:
        renew()


def renew() -> OutboxKey:
    """Make another pair, to which everything is sealed from now on."""
    private, public = new_pair()
    return OutboxKey.objects.create(public=public, private=base64.b64encode(private).decode())


def newest() -> tuple[UUID, str] | None:
    """The key to seal to: its name, and its SubjectPublicKeyInfo in base64. None: made by nobody
    yet."""
    found = OutboxKey.objects.defer("private").first()
    return (found.pk, base64.b64encode(bytes(found.public)).decode()) if found else None


def seal(said: Mapping[str, Any], entry: UUID) -> dict[str, Any]:
    """Seal an entry as a telephone does, where one was sent without a script.

    Only to the public half: a travelling set has no other, so it cannot open it again.
    """
    key = OutboxKey.objects.defer("private").latest("made_at")
    fresh, nonce = secrets.token_bytes(32), secrets.token_bytes(12)
    closed = wrap(fresh, nonce, json.dumps(dict(said)).encode(), str(entry).encode())
    parts = (wrap_with(bytes(key.public), fresh), nonce, closed)
    texts = (base64.b64encode(part).decode() for part in parts)
    return {"to": str(key.pk), **dict(zip(PARTS, texts, strict=True))}


def unseal(sealed: Mapping[str, Any], entry: UUID) -> dict[str, Any]:
    """Open an entry: {"to": the key's name, "wrapped", "nonce", "closed": base64}; gives its JSON.

    It is bound to `entry`, the key it was given on the telephone, so that nobody can send it again
    under another. Raise SealBroken where it is of another shape, too long, for a key we have not,
    or was changed.
    """
    try:
        wrapped, nonce, closed = (base64.b64decode(sealed[part], validate=True) for part in PARTS)
        key = OutboxKey.objects.get(pk=UUID(str(sealed["to"])))
        if len(closed) > LONGEST:
            raise ValueError("an entry is short")
        bound = str(entry).encode()
        fresh = unwrap_with(base64.b64decode(key.private), wrapped)
        said = json.loads(unwrap(fresh, nonce, closed, bound))
    except (
        *(KeyError, TypeError, ValueError, RecursionError, binascii.Error, OutboxKey.DoesNotExist),
    ) as error:
        raise SealBroken("an entry of the outbox does not open") from error
    if not isinstance(said, dict) or any(isinstance(one, dict | list) for one in said.values()):
        raise SealBroken("an entry of the outbox is no form")
    return said
