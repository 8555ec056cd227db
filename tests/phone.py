"""A telephone as the outbox test needs one in Python: it seals as the script does, and sends."""

import base64
import json
import os
import uuid
from datetime import datetime
from typing import Any

from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.serialization import load_der_public_key

from relations.privacy import outbox
from relations.privacy.crypt import OAEP


def text(data: bytes) -> str:
    return base64.b64encode(data).decode()


def seal(said: Any, key: uuid.UUID) -> dict[str, str]:
    """What the script makes of a form, bound to the entry's key."""
    to, public = outbox.newest() or (None, "")
    fresh, nonce = os.urandom(32), os.urandom(12)
    rsa = load_der_public_key(base64.b64decode(public))
    return {
        "to": str(to),
        "wrapped": text(rsa.encrypt(fresh, OAEP)),
        "nonce": text(nonce),
        "closed": text(AESGCM(fresh).encrypt(nonce, json.dumps(said).encode(), str(key).encode())),
    }


def body(said: Any, now: datetime, key: uuid.UUID | None = None, **more: Any) -> bytes:
    """One entry as it is sent, by a telephone that believes that it is `now`."""
    key = key or uuid.uuid4()
    times = {"written_at": now.isoformat(), "known_at": now.isoformat()}
    sealed = seal({**times, **said}, key)
    return json.dumps({"key": str(key), "sealed": sealed, "now": now.isoformat(), **more}).encode()
