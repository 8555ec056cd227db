"""The one file of a backup: what lies in it, how it is written, and how it is read back.

It is a sealed file like every other (`privacy/files.py`: STREAM, AES-256-GCM, chunks of 64 KiB),
under the key of its month; where another says the number of its master key, it says that key's.
Inside lie records, one after the other: kind 1 byte, length of the body 4 bytes, the body.

    M  what it is and how much: JSON, the fields of Manifest
    R  rows of one table, at most 500: JSON {"table": "people.participant", "rows": [[…], …]}
    F  a file of the home begins, sealed as it lies there: JSON {"folder", "name", "size"}
    D  a piece of it, at most 256 KiB
    S  its end: the SHA-256 of all its pieces
    E  the end of all: JSON {"rows": …, "files": …}

A value is written as the database keeps it, a sealed one sealed, but in the same way from both
databases, so that a backup of one may be restored into the other: JSON's own, and {"b": base64}
bytes, {"u"} a UUID, {"m"} a moment in UTC, {"d"} a day, {"t"} a time of the day, {"n"} a decimal
number, {"j"} a list or an object.
"""

import base64
import hashlib
import json
from collections.abc import Callable, Iterable, Iterator
from dataclasses import asdict, dataclass, field
from datetime import UTC, date, datetime, time
from decimal import Decimal
from pathlib import Path
from typing import Any, BinaryIO
from uuid import UUID

from relations.privacy.crypt import SealBroken
from relations.privacy.files import CHUNK, HEADER_BYTES, MAGIC, TAG_BYTES, open_chunks, seal_chunks
from relations.privacy.month_keys import MonthKey

FORMAT = 1
NAME = "backup"  # what the sealed file is bound to; its own name may change
ROWS, PIECE = 500, 4 * CHUNK


class NotABackup(ValueError):  # noqa: N818 - read as a sentence where it is raised
    """The file is none of this site's backups."""


class Damaged(ValueError):  # noqa: N818 - read as a sentence where it is raised
    """The backup is not as it was written; the message says where."""


@dataclass(frozen=True)
class Manifest:
    """What a backup says of itself. `tables`: by label, the columns in order and how many rows.

    `log`: number and hash of the access log's last line; `ledger`: of the last erasing. `key_id`
    and `master` (base64): the master key that its rows and files are under, which a rekey since
    has replaced perhaps.
    """

    made_at: str
    migrations: list[list[str]]
    tables: dict[str, dict[str, Any]]
    log: list[Any]
    ledger: list[Any]
    key_id: int
    master: str = field(repr=False)
    format: int = FORMAT

    @property
    def moment(self) -> datetime:
        return datetime.fromisoformat(self.made_at)

    @property
    def counts(self) -> dict[str, int]:
        """How many rows each table has."""
        return {label: table["rows"] for label, table in self.tables.items()}


@dataclass(frozen=True)
class Rows:
    """Some rows of one table, the values in the order of its columns."""

    table: str
    rows: list[list[Any]]


@dataclass(frozen=True)
class SealedFile:
    """A file as it lies in the home. `pieces` ends, or raises Damaged where the digest differs."""

    folder: str
    name: str
    size: int
    pieces: Iterable[bytes]


Part = Manifest | Rows | SealedFile


def written(parts: Iterable[Part], key: MonthKey) -> Iterator[bytes]:
    """The bytes of a backup with these parts: the manifest, all rows, then the files."""
    return seal_chunks(_records(parts), key.key, NAME, key_id=key.number)


def _records(parts: Iterable[Part]) -> Iterator[bytes]:
    rows = files = 0
    for part in parts:
        if isinstance(part, Manifest):
            yield _record(b"M", _json(asdict(part)))
        elif isinstance(part, Rows):
            rows += len(part.rows)
            said = [[_said(value) for value in row] for row in part.rows]
            yield _record(b"R", _json({"table": part.table, "rows": said}))
        else:
            files += 1
            yield from _file(part)
    yield _record(b"E", _json({"rows": rows, "files": files}))


def _file(part: SealedFile) -> Iterator[bytes]:
    yield _record(b"F", _json({"folder": part.folder, "name": part.name, "size": part.size}))
    digest = hashlib.sha256()
    for piece in part.pieces:
        digest.update(piece)
        yield _record(b"D", piece)
    yield _record(b"S", digest.digest())


def _record(kind: bytes, body: bytes) -> bytes:
    return kind + len(body).to_bytes(4, "big") + body


def _json(value: object) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()


def number_of(path: Path) -> int:
    """The number of the month's key it is under. Raise NotABackup."""
    with path.open("rb") as file:
        head = file.read(HEADER_BYTES)
    if len(head) < HEADER_BYTES or not head.startswith(MAGIC):
        raise NotABackup("not a file that this site sealed")
    return int.from_bytes(head[5:7], "big")


def contents(path: Path, key: MonthKey) -> Iterator[Part]:
    """The parts of a backup, each checked; a file's pieces are taken before the next part.

    Raise Damaged where something was changed, cut off, left out or put in: at the latest at the
    end, so nothing of it counts before that.
    """
    with path.open("rb") as file:
        reading = _Reading(file, key, path.stat().st_size)
        manifest = reading.manifest()
        yield manifest
        rows: dict[str, int] = dict.fromkeys(manifest.tables, 0)
        files = 0
        while True:
            kind, body = reading.record()
            if kind == b"R":
                part = reading.rows(body)
                rows[part.table] += len(part.rows)
                yield part
            elif kind == b"F":
                files += 1
                found = reading.file(body)
                yield found
                for _ in found.pieces:
                    pass
            else:
                break
        told = {"rows": sum(rows.values()), "files": files}
        if kind != b"E" or json.loads(body) != told or rows != manifest.counts:
            raise Damaged("It is whole, but it does not hold as much as it says.")
        reading.end()


def verify(path: Path, key: MonthKey) -> tuple[Manifest, int]:
    """Read a backup to its end; return what it says of itself, and the number of its files.

    Raise Damaged, which says where.
    """
    parts = contents(path, key)
    manifest = next(parts)
    if not isinstance(manifest, Manifest):  # pragma: no cover - `contents` begins with it
        raise TypeError("a backup begins with its manifest")
    return manifest, sum(isinstance(part, SealedFile) for part in parts)


class _Reading:
    """Takes the records of one backup in their order and knows where it is."""

    def __init__(self, file: BinaryIO, key: MonthKey, size: int) -> None:
        self._pieces = self._opened(file, key, size)
        self._held = bytearray()
        self.place = "its first part"

    def _opened(self, file: BinaryIO, key: MonthKey, size: int) -> Iterator[bytes]:
        done = 0
        try:
            for piece in open_chunks(file, key.key, NAME, key_id=key.number):
                yield piece
                done += 1
        except SealBroken as error:
            at = HEADER_BYTES + done * (CHUNK + TAG_BYTES)
            if at + CHUNK + TAG_BYTES >= size:
                raise Damaged(
                    f"Its end is missing or was changed: it stops, or breaks, between byte {at} "
                    f"and byte {size}, in {self.place}."
                ) from error
            raise Damaged(
                f"It was changed near byte {at} of {size}, in {self.place}"
                + ("." if done else ": or it is of another home.")
            ) from error

    def record(self) -> tuple[bytes, bytes]:
        """The next record. Raise Damaged where there is none."""
        head = self._take(5)
        return head[:1], self._take(int.from_bytes(head[1:], "big"))

    def _take(self, length: int) -> bytes:
        while len(self._held) < length:
            try:
                self._held += next(self._pieces)
            except StopIteration as end:
                raise Damaged(f"It ends too early, in {self.place}.") from end
        taken = bytes(self._held[:length])
        del self._held[:length]
        return taken

    def end(self) -> None:
        """Nothing may follow. Raise Damaged."""
        if self._held or any(self._pieces):
            raise Damaged("It goes on after its end.")

    def manifest(self) -> Manifest:
        kind, body = self.record()
        said = json.loads(body) if kind == b"M" else {}
        if said.get("format") != FORMAT:
            raise NotABackup("not a backup, or one of another version of the site")
        return Manifest(**said)

    def rows(self, body: bytes) -> Rows:
        said = json.loads(body)
        self.place = f"the rows of {said['table']}"
        return Rows(said["table"], [[_read(value) for value in row] for row in said["rows"]])

    def file(self, body: bytes) -> SealedFile:
        said = json.loads(body)
        self.place = f"the file {said['name']} of {said['folder']}"
        return SealedFile(**said, pieces=self._file(said["size"]))

    def _file(self, size: int) -> Iterator[bytes]:
        digest, came = hashlib.sha256(), 0
        kind, body = self.record()
        while kind == b"D":
            digest.update(body)
            came += len(body)
            yield body
            kind, body = self.record()
        if kind != b"S" or body != digest.digest() or came != size:
            raise Damaged(f"It does not hold what it says, in {self.place}.")


def _said(value: Any) -> Any:
    """A value in JSON."""
    if value is None or isinstance(value, bool | int | float | str):
        return value
    for kind, (name, write, _) in _KINDS.items():
        if isinstance(value, kind):
            return {name: write(value)}
    raise TypeError(f"a backup cannot hold a {type(value).__name__}")


def _read(said: Any) -> Any:
    if not isinstance(said, dict):
        return said
    ((name, text),) = said.items()
    return _READERS[name](text)


def _utc(moment: datetime) -> str:
    return moment.astimezone(UTC).isoformat()


def _text(data: bytes | memoryview) -> str:
    return base64.b64encode(data).decode()


# A moment before a day: it is one, too.
_KINDS: dict[Any, tuple[str, Callable[[Any], Any], Callable[[Any], Any]]] = {
    bytes | memoryview: ("b", _text, base64.b64decode),
    UUID: ("u", str, UUID),
    datetime: ("m", _utc, datetime.fromisoformat),
    date: ("d", date.isoformat, date.fromisoformat),
    time: ("t", time.isoformat, time.fromisoformat),
    Decimal: ("n", str, Decimal),
    list | dict: ("j", lambda value: value, lambda value: value),
}
_READERS = {name: read for name, _, read in _KINDS.values()}
