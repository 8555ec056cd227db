"""Scans and light copies, sealed in chunks, under random names, written whole or not at all."""

import errno
import fcntl
import io
import os
import secrets
import struct
import uuid
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import IO, Any, BinaryIO

from django.apps import apps
from django.conf import settings
from django.core.files.base import ContentFile, File
from django.core.files.storage import Storage
from django.utils.deconstruct import deconstructible

from .crypt import SealBroken, derive, unwrap, wrap
from .home import home
from .keys import keyring
from .slots import sync_folder

# Header: magic 4 B, version 1 B, key id 2 B, log2 of the chunk 1 B, salt 32 B.
MAGIC = b"RELF"
VERSION, CHUNK_BITS = 1, 16
HEADER_BYTES, SALT_BYTES, TAG_BYTES = 40, 32, 16
CHUNK = 1 << CHUNK_BITS
PART = ".part-"


def beginning(key_id: int) -> bytes:
    """The first 8 bytes of a file that is sealed under this master key."""
    return MAGIC + struct.pack(">BHB", VERSION, key_id, CHUNK_BITS)


def _nonce(number: int, *, is_last: bool) -> bytes:
    """12 bytes: the chunk's number and whether it is the last, so none is moved, dropped, added."""
    return struct.pack(">7xI?", number, is_last)


def seal_chunks(
    data: Iterable[bytes], key: bytes, name: str, salt: bytes | None = None, *, key_id: int = 1
) -> Iterator[bytes]:
    """The sealed file in pieces: STREAM (Hoang, Reyhanitabar, Rogaway, Vizar 2015), AES-256-GCM.

    Each file has a key of its own, derived from `key`, its salt, its header and its name; `salt`
    (32 bytes) is given by checks only.
    """
    salt = secrets.token_bytes(SALT_BYTES) if salt is None else salt
    header = beginning(key_id) + salt
    file_key = derive(key, salt, header + name.encode())
    yield header
    held, number = bytearray(), 0
    for piece in data:
        held += piece
        while len(held) > CHUNK:  # at least one byte stays for the last chunk
            yield wrap(file_key, _nonce(number, is_last=False), bytes(held[:CHUNK]), b"")
            del held[:CHUNK]
            number += 1
    yield wrap(file_key, _nonce(number, is_last=True), bytes(held), b"")


def open_chunks(file: BinaryIO, key: bytes, name: str, *, key_id: int = 1) -> Iterator[bytes]:
    """The clear pieces of a sealed file. Raise SealBroken at the first that is not as it was.

    A cut file shows only at its end: give nothing to a person as whole before that.
    """
    header = file.read(HEADER_BYTES)
    if header[:8] != beginning(key_id):
        raise SealBroken("not a sealed file of this site, or under another key")
    file_key = derive(key, header[8:], header + name.encode())
    piece, number = file.read(CHUNK + TAG_BYTES), 0
    while True:
        following = file.read(CHUNK + TAG_BYTES)
        yield unwrap(file_key, _nonce(number, is_last=not following), piece, b"")
        if not following:
            return
        piece, number = following, number + 1


def publish(part: Path, final: Path) -> None:
    """Give the finished part its name; raise FileExistsError rather than replace a file."""
    try:
        os.link(part, final)
    except OSError as error:
        if error.errno not in {errno.EPERM, errno.ENOTSUP, errno.EMLINK}:
            raise
        # No hard links on this disk: take the name first, then put the file in its place.
        os.close(os.open(final, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
        part.replace(final)


def write_whole(
    final: Path, pieces: Iterable[bytes], give_name: Callable[[Path, Path], object]
) -> None:
    """Write a part beside `final`, whole on the disk before `give_name` turns it into the file."""
    part = final.with_name(f"{PART}{final.name}")
    try:
        with _private(part) as file:
            # Held while it is written, so that a sweep leaves it alone.
            fcntl.flock(file, fcntl.LOCK_EX)
            for piece in pieces:
                file.write(piece)
            file.flush()
            os.fsync(file.fileno())
            give_name(part, final)
    finally:
        part.unlink(missing_ok=True)
    sync_folder(final.parent)


def sweep(folder: Path, named: str = "*") -> int:
    """Remove the parts of files of such names that nobody writes any more; return how many."""
    swept = 0
    for part in folder.glob(f"{PART}{named}"):
        with part.open("rb") as file:
            try:
                fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                continue
            part.unlink(missing_ok=True)
            swept += 1
    return swept


@deconstructible
class SealedStorage(Storage):
    """A folder of sealed files; names are random and come out of `save`, never from outside."""

    def __init__(self, folder: Path | None = None) -> None:
        self._folder = folder

    @property
    def folder(self) -> Path:
        return self._folder or home().scans

    def path_of(self, key: str) -> Path:
        """Where the file lies. Raise FileNotFoundError for what is no key."""
        try:
            return self.folder / str(uuid.UUID(key))
        except ValueError as error:
            raise FileNotFoundError("no file has such a key") from error

    def save(
        self, name: Any, content: IO[Any] | bytes | None = None, max_length: int | None = None
    ) -> str:
        """Seal `content` under a new random key and return the key; a name given is ignored.

        Takes `save(content)` as well as Django's `save(name, content)`.
        """
        given = name if content is None else content
        clear = ContentFile(given) if isinstance(given, bytes) else given
        return self._save(str(uuid.uuid4()), clear if isinstance(clear, File) else File(clear))

    def _save(self, name: str, content: "File[Any]") -> str:
        self._write(self.path_of(name), content.chunks(4 * CHUNK), publish)
        return name

    def _write(
        self, final: Path, clear: Iterable[bytes], publish: Callable[[Path, Path], object]
    ) -> None:
        """Seal under the key of now, whole on the disk before `publish` gives it its name."""
        self._make_folder()
        key, key_id = keyring.subkey("file"), keyring.key_id
        write_whole(final, seal_chunks(clear, key, final.name, key_id=key_id), publish)

    def put_back(self, name: str, sealed: Iterable[bytes]) -> None:
        """A file of this name that was sealed already, as a backup holds it."""
        self._make_folder()
        write_whole(self.path_of(name), sealed, publish)

    def _make_folder(self) -> None:
        if not self.folder.is_dir():
            self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            sync_folder(self.folder.parent)

    def names(self) -> list[str]:
        """Every file's key, in order."""
        there = self.folder.iterdir() if self.folder.is_dir() else ()
        return sorted(path.name for path in there if not path.name.startswith(PART))

    def reseal(self, name: str) -> bool:
        """Seal a file that is under the master before under that of now; False: it was already.

        The old file stands until the new one is whole. Raise SealBroken when it is neither's.
        """
        path, before = self.path_of(name), keyring.former_id
        with path.open("rb") as file:
            if file.read(8) == beginning(keyring.key_id):
                return False
            file.seek(0)
            key = keyring.former_subkey("file")
            clear = open_chunks(file, key, path.name, key_id=before)
            self._write(path, clear, Path.replace)
        return True

    def _open(self, name: str, mode: str = "rb") -> "File[bytes]":
        """The whole clear file, opened to its end before a byte of it is given out."""
        if mode != "rb":
            raise ValueError("a sealed file is only read")
        path = self.path_of(name)
        with path.open("rb") as file:
            key, key_id = keyring.subkey("file"), keyring.key_id
            clear = b"".join(open_chunks(file, key, path.name, key_id=key_id))
        return File(io.BytesIO(clear), name=path.name)

    def exists(self, name: str) -> bool:
        return self.path_of(name).is_file()

    def delete(self, name: str) -> None:
        self.path_of(name).unlink()
        sync_folder(self.folder)

    def size(self, name: str) -> int:
        """Bytes of the clear file."""
        sealed = self.path_of(name).stat().st_size - HEADER_BYTES
        return sealed - TAG_BYTES * -(-sealed // (CHUNK + TAG_BYTES))

    def sweep(self) -> int:
        """Remove parts that a cut of power left behind; return how many."""
        return sweep(self.folder)


def _private(path: Path) -> IO[bytes]:
    return os.fdopen(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "wb")


def scans() -> SealedStorage:
    """The scans of signed papers."""
    return SealedStorage(home().scans)


def light_copies() -> SealedStorage:
    """Small copies of the pictures, enough to know them by."""
    return SealedStorage(home().pictures)


# By the folder of the home that each lies in.
STORES: dict[str, Callable[[], SealedStorage]] = {"scans": scans, "pictures": light_copies}


def named(folder: str) -> set[str]:
    """The keys of all files in `scans` or `pictures` that some row refers to."""
    found: set[str] = set()
    for label, name in settings.RELATIONS_SEALED_FILES[folder]:
        rows = apps.get_model(label)._base_manager.exclude(**{name: ""})
        found.update(rows.values_list(name, flat=True))
    return found
