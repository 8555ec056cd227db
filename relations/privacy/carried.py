"""What a home carries over from its earlier master keys, sealed in its key file under the new."""

import base64
import json
import secrets
from dataclasses import dataclass
from typing import Any

from .crypt import SealBroken, expand, unwrap, wrap


@dataclass(frozen=True)
class Carried:
    """Keys of earlier masters that something still needs, newest first; one of each per rekey.

    `marks`: the marks of numbers never to be rung hold no number and cannot be made anew, and
    papers printed earlier bear codes made with these. `logs`: number of the last line chained
    under each key. `former`: the master before, while a rekey is not finished; else None.
    `former_id`: the number of that one, where it is not the one just before this.
    """

    marks: tuple[bytes, ...] = ()
    logs: tuple[tuple[int, bytes], ...] = ()
    former: bytes | None = None
    former_id: int | None = None

    def log_key(self, seq: int, current: bytes) -> bytes:
        """The key under which line `seq` of the access log is chained."""
        fitting = [key for last, key in self.logs if seq <= last]
        return fitting[-1] if fitting else current


def seal(carried: Carried, master: bytes, key_id: int) -> dict[str, str]:
    """Its place in the key file: nonce and ciphertext, bound to the number of the master key."""
    said = {
        "marks": [_text(key) for key in carried.marks],
        "logs": [[last, _text(key)] for last, key in carried.logs],
        "former": _text(carried.former) if carried.former else None,
        "former_id": carried.former_id,
    }
    nonce = secrets.token_bytes(12)
    sealed = wrap(_key(master), nonce, json.dumps(said).encode(), _bound(key_id))
    return {"nonce": _text(nonce), "sealed": _text(sealed)}


def unseal(kept: dict[str, Any], master: bytes, key_id: int) -> Carried:
    """What the key file carries. Raise SealBroken where it is missing, changed or of another time.

    The slot says how many master keys there were, so that nobody can take this out unseen.
    """
    if key_id == 1:
        return Carried()
    try:
        token = kept["carried"]
        nonce, sealed = (base64.b64decode(token[part]) for part in ("nonce", "sealed"))
    except (KeyError, ValueError) as error:
        raise SealBroken("the key file lacks what earlier keys left") from error
    said = json.loads(unwrap(_key(master), nonce, sealed, _bound(key_id)))
    return Carried(
        tuple(base64.b64decode(key) for key in said["marks"]),
        tuple((last, base64.b64decode(key)) for last, key in said["logs"]),
        base64.b64decode(said["former"]) if said["former"] else None,
        said.get("former_id"),
    )


def _key(master: bytes) -> bytes:
    return expand(master, b"relations carried")


def _bound(key_id: int) -> bytes:
    return f"carried {key_id}".encode()


def _text(data: bytes) -> str:
    return base64.b64encode(data).decode()
