"""The one file in which the whole register leaves: sealed under a passphrase of its own.

    RELATIONS REGISTER 1
    a slot in JSON, one line: the file's random key, wrapped under the passphrase (`privacy/slots`)
    a sealed file (`privacy/files`): the document of `taking_out_rows`, compressed (RFC 1950)

It needs no home to be opened, and none of a home's keys opens it.
"""

import json
import secrets
import zlib
from collections.abc import Iterable, Iterator
from typing import Any, BinaryIO

from relations.privacy.crypt import SealBroken
from relations.privacy.files import open_chunks, seal_chunks
from relations.privacy.slots import HEAD, make_slot, open_slot

from .taking_out_rows import FORMAT

BEGINNING = b"RELATIONS REGISTER 1\n"
# What slot and file are bound to: a slot of a home's key file opens none, nor the other way round.
NAME = "register"
SUFFIX = "relreg"
SLOT_BYTES = 4096
# A slot that asks for more than these was not made here: memory in KiB, passes, lanes.
MOST = {"memory": 1024 * 1024, "passes": 16, "lanes": 16}


class NotARegister(ValueError):  # noqa: N818 - read as a sentence where it is raised
    """The file is no register that was taken out, or of another version of the site."""


class WrongPassphrase(ValueError):  # noqa: N818 - read as a sentence where it is raised
    """The passphrase does not open the file."""


class Damaged(ValueError):  # noqa: N818 - read as a sentence where it is raised
    """The file is not as it was written: changed, cut, or put together of two."""


def seal(document: Iterable[bytes], passphrase: str) -> bytes:
    """The whole file, in memory; its key is random and stands in it under the passphrase alone."""
    key = secrets.token_bytes(32)
    slot = make_slot("passphrase", passphrase, key, NAME)
    head = json.dumps(slot, sort_keys=True).encode() + b"\n"
    return b"".join([BEGINNING, head, *seal_chunks(_compressed(document), key, NAME)])


def _compressed(document: Iterable[bytes]) -> Iterator[bytes]:
    press = zlib.compressobj()
    for piece in document:
        yield press.compress(piece)
    yield press.flush()


def opened(file: BinaryIO, passphrase: str) -> bytes:
    """The document, once all of the file is known to be whole.

    Raise NotARegister, WrongPassphrase, Damaged.
    """
    if file.readline(len(BEGINNING)) != BEGINNING:
        raise NotARegister("This is no register that was taken out, or of another version.")
    slot = _slot(file.readline(SLOT_BYTES))
    try:
        key = open_slot(slot, passphrase, NAME)
    except SealBroken as error:
        raise WrongPassphrase("The passphrase does not open this file.") from error
    try:
        document = _whole(b"".join(open_chunks(file, key, NAME)))
    except (SealBroken, zlib.error) as error:
        raise Damaged("The file was cut or changed: take another copy of it.") from error
    if json.loads(document).get("format") != FORMAT:
        raise NotARegister("This register was taken out of another version of the site.")
    return document


def _whole(compressed: bytes) -> bytes:
    press = zlib.decompressobj()
    document = press.decompress(compressed)
    if not press.eof or press.unused_data:
        raise zlib.error("it does not end where it should")
    return document


def _slot(line: bytes) -> dict[str, Any]:
    """The slot; its costs are held to what a machine can pay before anything is tried."""
    try:
        said = json.loads(line)
        slot = {name: said[name] for name in (*HEAD[:-1], "nonce", "wrapped")}
        is_ours = slot["name"] == "passphrase" and slot["kdf"] == "argon2id"
        costs = [(slot[name], most) for name, most in MOST.items()]
        is_payable = all(isinstance(cost, int) and 0 < cost <= most for cost, most in costs)
    except (ValueError, KeyError, TypeError) as error:
        raise Damaged("The first lines of the file were changed: take another copy.") from error
    if not (is_ours and is_payable):
        raise Damaged("The first lines of the file were changed: take another copy.")
    return slot
