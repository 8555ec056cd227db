"""The ledger of what was erased: a file beside the database, to which lines are only ever added.

An older copy of the database that is put back knows again what the ledger says was erased, and is
behind it until that is erased once more. A line holds its number, the random key by which only
the database knew the person, or the row that said who told us of somebody, the hour, and a keyed
hash over it and the line before. Read without the database it says how much was erased and when,
and nothing of whom.
"""

import fcntl
import hmac
import os
import uuid
from collections.abc import Collection, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import takewhile
from pathlib import Path

from django.db import connection
from django.utils import timezone

from . import heads
from .home import home
from .keys import StaysLocked, keyring
from .models import LedgerHead
from .slots import sync_folder

NOTHING = bytes(32)  # what the first line is chained to
CHANGED, MISSING = "changed", "missing"
SAID = {
    CHANGED: "line {line} of the ledger of what was erased is not as it was written",
    MISSING: "line {line} of the ledger of what was erased is missing: its end was cut off, "
    "or an older file was put back",
}


class LedgerBroken(StaysLocked):
    """The ledger does not stand: its first bad line, and whether that was changed or is missing."""

    code = "ledger"

    def __init__(self, line: int, kind: str) -> None:
        super().__init__(SAID[kind].format(line=line))
        self.line, self.kind = line, kind


@dataclass(frozen=True, slots=True)
class Entry:
    """One line: its number, from 1; the random key of what was erased; when; its hash in hex."""

    sequence: int
    person_id: uuid.UUID
    at: datetime
    mac: str

    @property
    def line(self) -> str:
        return f"{self.sequence} {self.person_id} {self.at.isoformat()} {self.mac}\n"


def path() -> Path:
    """Where the ledger lies."""
    return home().root / "ledger"


def append(person_id: uuid.UUID) -> int:
    """Add a line and give its number; it is on the disk when this returns.

    Raise LedgerBroken, and add nothing, where the ledger does not stand.
    """
    with _alone():
        found = entries()
        before = bytes.fromhex(found[-1].mac) if found else NOTHING
        line = _entry(len(found) + 1, person_id, timezone.now(), before, keyring.subkey("ledger"))
        _add(line)
        heads.keep(line.sequence, line.mac, heads.LEDGER)
    return line.sequence


def entries() -> list[Entry]:
    """Every line, oldest first.

    Raise LedgerBroken at the first that does not stand by the chain, by what the database says
    was applied, or by the heads kept beside it: a cut end shows by these only. A last line that
    is not whole was never acknowledged and is no line.
    """
    # What is known first: somebody may add a line meanwhile, and its head.
    known = [*heads.read(heads.LEDGER), *_applied()]
    found = list(_read(keyring.subkey("ledger")))
    _compare(found, known)
    return found


def advance(keys: Collection[uuid.UUID]) -> bool:
    """Say that the lines of these keys were applied; give whether nothing older is left to clear.

    To be called in the transaction that applied them. Where a line of another key waits before
    theirs, the next opening applies it and theirs once more.
    """
    head, _ = LedgerHead.objects.select_for_update().get_or_create(only=True)
    was_clear = head.cleared == head.seq
    applied = list(takewhile(lambda entry: entry.person_id in keys, entries()[head.seq :]))
    if applied:
        head.seq, head.mac = applied[-1].sequence, bytes.fromhex(applied[-1].mac)
        head.save(update_fields=["seq", "mac"])
    return was_clear and bool(applied)


def last() -> tuple[int, str]:
    """Number and hash (hex) of the last line, to be kept elsewhere; (0, "") where there is none."""
    found = entries()
    return (found[-1].sequence, found[-1].mac) if found else (0, "")


def rekey() -> None:
    """Chain every line anew under the master of now; done twice, it is done once.

    The file is the old one or the new, whole. Raise LedgerBroken where it stands under neither
    master, or has fewer lines than the database knows.
    """
    with _alone():
        try:
            found = list(_read(keyring.subkey("ledger")))
        except LedgerBroken:
            found = list(_chain(_read(keyring.former_subkey("ledger"))))
            _replace(found)
        for kept in LedgerHead.objects.filter(seq__gt=0):
            if kept.seq > len(found):
                raise LedgerBroken(len(found) + 1, MISSING)
            kept.mac = bytes.fromhex(found[kept.seq - 1].mac)
            kept.save(update_fields=["mac"])
        if found:
            heads.replace([(found[-1].sequence, found[-1].mac)], heads.LEDGER)


def _entry(sequence: int, person_id: uuid.UUID, at: datetime, before: bytes, key: bytes) -> Entry:
    moment = at.astimezone(UTC)
    body = f"{sequence} {person_id} {moment.isoformat()}".encode()
    return Entry(sequence, person_id, moment, hmac.digest(key, before + body, "sha256").hex())


def _read(key: bytes) -> Iterator[Entry]:
    """The lines as they stand in the file, each checked against the one before."""
    before = NOTHING
    for number, text in enumerate(_lines(), start=1):
        try:
            sequence, person, at, mac = text.split(" ")
            said = Entry(int(sequence), uuid.UUID(person), datetime.fromisoformat(at), mac)
            entry = _entry(number, said.person_id, said.at, before, key)
        except ValueError as error:
            raise LedgerBroken(number, CHANGED) from error
        # Also the writing itself: one line has one form.
        if not hmac.compare_digest(entry.line.encode(), f"{text}\n".encode()):
            raise LedgerBroken(number, CHANGED)
        before = bytes.fromhex(entry.mac)
        yield entry


def _lines() -> list[str]:
    """Whole lines; what stands after the last end of line was never acknowledged."""
    try:
        content = path().read_bytes()
    except FileNotFoundError:
        return []
    return content.decode("ascii", errors="replace").split("\n")[:-1]


def _chain(old: Iterable[Entry]) -> Iterator[Entry]:
    before, key = NOTHING, keyring.subkey("ledger")
    for one in old:
        entry = _entry(one.sequence, one.person_id, one.at, before, key)
        before = bytes.fromhex(entry.mac)
        yield entry


def _compare(found: list[Entry], known: Iterable[tuple[int, str]]) -> None:
    for sequence, mac in sorted(known):
        if sequence > len(found):
            raise LedgerBroken(len(found) + 1, MISSING)
        if found[sequence - 1].mac != mac:
            raise LedgerBroken(sequence, CHANGED)


def _applied() -> list[tuple[int, str]]:
    """What the database says was the last line applied; nothing where it has no table yet."""
    if LedgerHead._meta.db_table not in connection.introspection.table_names():
        return []
    rows = LedgerHead.objects.filter(seq__gt=0).values_list("seq", "mac")
    return [(seq, bytes(mac).hex()) for seq, mac in rows]


@contextmanager
def _alone() -> Iterator[None]:
    """Held by one writer at a time, of whichever process; never the ledger's own file, which a
    rekey replaces."""
    handle = os.open(home().root / "ledger.lock", os.O_CREAT | os.O_RDWR, 0o600)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def _add(entry: Entry) -> None:
    is_new = not path().exists()
    handle = os.open(path(), os.O_CREAT | os.O_RDWR, 0o600)
    try:
        # A line that a cut of power left half was never acknowledged; this one takes its place.
        end = os.lseek(handle, 0, os.SEEK_END)
        whole = os.pread(handle, end, 0).rfind(b"\n") + 1
        os.ftruncate(handle, whole)
        line = entry.line.encode()
        if os.pwrite(handle, line, whole) != len(line):
            raise OSError("the disk took only a part of the line")
        os.fsync(handle)
    finally:
        os.close(handle)
    if is_new:
        sync_folder(path().parent)


def _replace(found: list[Entry]) -> None:
    heads.write_whole(path(), [entry.line for entry in found])
