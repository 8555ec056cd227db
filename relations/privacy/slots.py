"""The key file of a home: one random master key, wrapped in a slot for each way to open it."""

import base64
import fcntl
import json
import os
import secrets
import tempfile
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Literal

from .crypt import Cost, SealBroken, stretch, unwrap, wrap

# No I, L, O or U: a recovery code is read aloud and written down by hand.
CODE_ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
CODE_LENGTH = 28  # 140 bits
VERSION = 1

Kind = Literal["real", "rehearsal", "travelling"]
# What a slot says in clear and is sealed to.
HEAD = ("name", "kdf", "memory", "passes", "lanes", "salt", "key_id")

# A typed passphrase is weak, so each guess must be dear: about 0.8 s and 256 MiB.
PASSPHRASE_COST = Cost(256 * 1024, 3, 2)
# The recovery code is random; the price of a guess adds nothing to 140 bits. So is the secret by
# which the register a travelling set was made in opens it when it comes home.
CODE_COST = Cost(64 * 1024, 1, 1)
# What a rehearsal's open slot pays: its secret lies in the slot, so nothing is guarded.
OPEN_COST = Cost(8, 1, 1)
COSTS = {
    "passphrase": PASSPHRASE_COST,
    "keeper": PASSPHRASE_COST,
    "recovery": CODE_COST,
    "home": CODE_COST,
    "open": OPEN_COST,
}


def _text(data: bytes) -> str:
    return base64.b64encode(data).decode()


def _said(name: str, secret: str) -> bytes:
    """A secret as bytes: however it was typed, the same characters give the same key."""
    if name == "recovery":
        return recovery_text(secret).encode()
    return unicodedata.normalize("NFKC", secret).encode()


def recovery_text(said: str) -> str:
    """A recovery code without spaces, hyphens and easily confused letters."""
    plain = unicodedata.normalize("NFKC", said).upper().translate(str.maketrans("OIL", "011"))
    return "".join(sign for sign in plain if sign in CODE_ALPHABET)


def new_recovery_code() -> str:
    """Seven groups of four random signs, to be printed once."""
    signs = "".join(secrets.choice(CODE_ALPHABET) for _ in range(CODE_LENGTH))
    return "-".join(signs[i : i + 4] for i in range(0, CODE_LENGTH, 4))


def _bound(kind: str, head: dict[str, Any]) -> bytes:
    """What a slot is sealed to, so that neither its parameters nor the file's kind can change."""
    return json.dumps({"file": kind, **head}, sort_keys=True).encode()


def make_slot(
    name: str,
    secret: str,
    master: bytes,
    kind: str,
    cost: Cost | None = None,
    *,
    key_id: int = 1,
) -> dict[str, Any]:
    """`master` wrapped under `secret`; the parameters stay in the slot for the day it is opened.

    `key_id` counts the master keys a home has had; it is bound into the slot from the second on.
    """
    cost = cost or COSTS[name]
    salt, nonce = secrets.token_bytes(16), secrets.token_bytes(12)
    head: dict[str, Any] = {
        "name": name,
        "kdf": "argon2id",
        "memory": cost.memory,
        "passes": cost.passes,
        "lanes": cost.lanes,
        "salt": _text(salt),
        **({"key_id": key_id} if key_id > 1 else {}),
    }
    sealed = wrap(stretch(_said(name, secret), salt, cost), nonce, master, _bound(kind, head))
    opened = {"secret": secret} if name == "open" else {}
    return {**head, "nonce": _text(nonce), "wrapped": _text(sealed), **opened}


def open_slot(slot: dict[str, Any], secret: str, kind: str) -> bytes:
    """The master key in `slot`. SealBroken: not its secret, or damaged."""
    head = {part: slot[part] for part in HEAD if part in slot}
    cost = Cost(slot["memory"], slot["passes"], slot["lanes"])
    try:
        salt, nonce, sealed = (
            base64.b64decode(slot[part]) for part in ("salt", "nonce", "wrapped")
        )
        key = stretch(_said(slot["name"], secret), salt, cost)
    except (ValueError, MemoryError) as error:
        raise SealBroken("the slot is damaged") from error
    return unwrap(key, nonce, sealed, _bound(kind, head))


def new_key_file(kind: Kind, secrets_by_slot: dict[str, str], master: bytes) -> dict[str, Any]:
    """The content of a key file with one slot for each of `passphrase`, `recovery`, `open`.

    A real home may have a `keeper` slot too. Only a rehearsal has an `open` slot, and no other.
    """
    wanted = {"open"} if kind == "rehearsal" else {"passphrase", "recovery"}
    allowed = wanted | ({"keeper"} if kind == "real" else set())
    if not wanted <= set(secrets_by_slot) <= allowed:
        raise ValueError(f"a {kind} key file has the slots {sorted(wanted)}, and no other")
    slots = [make_slot(name, said, master, kind) for name, said in secrets_by_slot.items()]
    return {"version": VERSION, "kind": kind, "slots": slots}


def new_set_file(
    statement: dict[str, str], secrets_by_slot: dict[str, str], master: bytes
) -> dict[str, Any]:
    """The content of the key file of a travelling set: one slot for `passphrase`, one for `home`.

    `statement` is {"trip", "until" (ISO), "key"}; every slot is sealed to it.
    """
    if set(secrets_by_slot) != {"passphrase", "home"}:
        raise ValueError("a travelling set has the slots passphrase and home, and no other")
    kept = {"version": VERSION, "kind": "travelling", "set": dict(statement)}
    slots = [make_slot(name, said, master, sort_of(kept)) for name, said in secrets_by_slot.items()]
    return {**kept, "slots": slots}


def sort_of(kept: dict[str, Any]) -> str:
    """What each slot of a key file is sealed to: its kind; of a travelling set its statement too.

    So nobody can move the last day of a set without the passphrase, nor make it a home.
    """
    said = json.dumps(kept["set"], sort_keys=True) if "set" in kept else ""
    return f"{kept['kind']} {said}".rstrip()


def with_slot(kept: dict[str, Any], slot: dict[str, Any]) -> dict[str, Any]:
    """The key file with this slot in the place of the one of its name, or added to the others."""
    others = [one for one in kept["slots"] if one["name"] != slot["name"]]
    return {
        **kept,
        "slots": sorted([*others, slot], key=lambda one: list(COSTS).index(one["name"])),
    }


def read_key_file(path: Path) -> dict[str, Any]:
    """The key file at `path`. Raise ValueError when it is none, or of a version of another site."""
    try:
        said: Any = json.loads(path.read_text(encoding="utf-8"))
    except RecursionError as error:
        raise ValueError("this is no key file") from error
    if not isinstance(said, dict) or not isinstance(said.get("version"), int):
        raise ValueError("this is no key file")
    kept: dict[str, Any] = said
    if kept["version"] != VERSION:
        raise ValueError("this key file is of another version of the site")
    if not isinstance(kept.get("kind"), str):
        raise ValueError("this is no key file")
    return kept


def write_key_file(path: Path, kept: dict[str, Any]) -> None:
    """Write the whole file or leave the old one: a half-written key file would lose everything."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    handle, part = tempfile.mkstemp(dir=path.parent, prefix=".part-")
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            json.dump(kept, file, indent=1, sort_keys=True)
            file.flush()
            os.fsync(file.fileno())
        with _blanking(path):
            Path(part).replace(path)
    finally:
        Path(part).unlink(missing_ok=True)
    sync_folder(path.parent)


@contextmanager
def changing_key_file(path: Path) -> Iterator[dict[str, Any]]:
    """The key file, for one process at a time to read it and write it: no change is lost."""
    folder = os.open(path.parent, os.O_RDONLY)
    try:
        fcntl.flock(folder, fcntl.LOCK_EX)
        yield read_key_file(path)
    finally:
        os.close(folder)


@contextmanager
def _blanking(path: Path) -> Iterator[None]:
    """Overwrite what the file held once the new one stands in its place.

    A key that is to be gone should not stay in free blocks. A disk that writes elsewhere, as those
    without moving parts do, may keep them all the same; the whole of such a disk is to be sealed.
    """
    try:
        old = path.open("r+b")
    except FileNotFoundError:
        yield
        return
    with old:
        yield
        status = os.fstat(old.fileno())
        if not status.st_nlink:  # else somebody keeps a copy under another name
            old.write(bytes(status.st_size))
            old.flush()
            os.fsync(old.fileno())


def sync_folder(folder: Path) -> None:
    """Make names in `folder` outlive a power cut: a file's own fsync does not cover its name."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
