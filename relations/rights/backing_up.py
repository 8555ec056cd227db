"""Writes one sealed file of everything the home holds, while others go on working in it.

The register is read as of one moment, and nobody waits for it: from an embedded register inside one
reading transaction of its journal, from PostgreSQL in REPEATABLE READ, READ ONLY. Files are read
after that moment. An action writes a file whole before the row that names it is committed, so what
the register of that moment names is there by then; it can only have gone since, when somebody let
it go or put a better copy in its place. Then the backup begins anew: the new moment names it no
more.
"""

import base64
import errno
import os
import shutil
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import BinaryIO

from django.apps import apps
from django.contrib.sessions.models import Session
from django.db import connection, models, transaction
from django.db.migrations.recorder import MigrationRecorder
from django.utils import timezone

from relations.privacy import ledger, log, tables
from relations.privacy.crypt import SealBroken
from relations.privacy.files import (
    STORES,
    named,
    open_chunks,
    publish,
    write_whole,
)
from relations.privacy.keys import keyring
from relations.privacy.ledger import LedgerBroken

from . import archive, shelf
from .archive import Damaged, Manifest, Rows, SealedFile
from .models import Backup
from .shelf import Unfit

KIND = "rights.backup"
# Nobody is signed in after a restore.
LEFT_OUT = (Session,)
TRIES = 5


class Vanished(LookupError):  # noqa: N818 - read as a sentence where it is raised
    """A file that the register names is gone since the moment of the backup."""


@dataclass
class Made:
    """What came of a backup.

    `faults`: files that are missing or do not open, by folder and name. `removed`: backups that
    were older than 90 days. `months`: those of which the key was destroyed. `ahead`: a backup that
    knows more of the access log than the register.
    """

    path: Path
    row: Backup
    faults: list[str] = field(default_factory=list)
    removed: list[str] = field(default_factory=list)
    months: list[str] = field(default_factory=list)
    ahead: Path | None = None


def make(folder: Path) -> Made:
    """Write a backup into `folder`, read it back, and only then give it its name.

    Then what is older than 90 days goes: backups in this folder, and keys of months. Killed at any
    moment, it leaves the home as it was, and in the folder a part that the next one sweeps away.
    Raise Unfit where it cannot be made; OSError from the disk.
    """
    at = timezone.now()
    with shelf.taken(folder):
        shelf.check(folder, at, bytes_needed())
        older_than = shelf.ahead(folder)
        # Each backup so ends at another line of the log, and has a name of its own.
        log.note(None, "backup_begun", KIND, None)
        try:
            made = _made(folder, at)
        except LedgerBroken as error:
            raise Unfit(f"The register is not as it should be: {error}.") from error
        except OSError as error:
            if error.errno not in (errno.ENOSPC, errno.EDQUOT):
                raise
            free = shutil.disk_usage(folder).free
            raise Unfit(shelf.no_room(folder, max(bytes_needed(), free + 1), free)) from error
        made.ahead = older_than
        on = timezone.localdate(at)
        made.removed = shelf.remove(shelf.old_ones(folder, on))
        made.months = keyring.destroy_month_keys(on)
        if made.months:
            log.note(None, "destroyed", "privacy.month_key", None)
            shelf.copy_beside(folder)
    return made


def _made(folder: Path, at: datetime) -> Made:
    for tries_left in reversed(range(TRIES)):
        with suppress(Vanished):
            return _written(folder, at, goes_on=not tries_left)
    raise AssertionError("the last try goes on")  # pragma: no cover


def _written(folder: Path, at: datetime, *, goes_on: bool) -> Made:
    key = keyring.month_key(timezone.localdate(at))
    faults: list[str] = []
    with ExitStack() as moment:
        moment.enter_context(snapshot())
        manifest = _manifest(at)
        seq, head = manifest.log
        final = folder / shelf.name_of(at, seq, head)

        def parts() -> Iterator[archive.Part]:
            yield manifest
            yield from _rows()
            yield from _files(faults, goes_on=goes_on)

        def read_back(part: Path, final: Path) -> None:
            moment.close()
            _forget_pages(part)
            found, files = archive.verify(part, key)
            if found != manifest:  # pragma: no cover - a disk that gives back another whole backup
                raise Damaged("What was read back is not what was written.")
            row.size, row.files = part.stat().st_size, files
            shelf.copy_beside(folder)
            publish(part, final)

        row = Backup(made_at=at, log_seq=seq, log_head=head, counts=manifest.counts)
        write_whole(final, archive.written(parts(), key), read_back)
    row.faults = len(faults)
    with transaction.atomic():
        row.save(force_insert=True)
        log.note(None, "backed_up", KIND, row.pk)
    return Made(final, row, faults)


@contextmanager
def snapshot() -> Iterator[None]:
    """One moment of the register; whoever writes meanwhile does not wait, and is not seen."""
    if connection.in_atomic_block:
        raise RuntimeError("a backup is not made inside another transaction")
    is_embedded = connection.vendor == "sqlite"
    isolation = "" if is_embedded else " ISOLATION LEVEL REPEATABLE READ, READ ONLY"
    with connection.cursor() as cursor:
        cursor.execute(f"BEGIN{isolation}")
        try:
            # The moment is that of the first reading, not of the beginning.
            cursor.execute("SELECT count(*) FROM django_migrations")
            yield
        finally:
            cursor.execute("ROLLBACK")


def kept_models() -> list[type[models.Model]]:
    """Every table of the site, those between two others too, in one order; sessions left out."""
    there = apps.get_models(include_auto_created=True)
    return [one for one in there if one not in LEFT_OUT and not one._meta.proxy]


def _columns(model: type[models.Model]) -> list[str]:
    return [field.attname for field in model._meta.local_concrete_fields]


def _manifest(at: datetime) -> Manifest:
    if tables.pending():
        raise Unfit("The register is older than the site. Run first: manage.py update")
    applied = MigrationRecorder(connection).applied_migrations()
    kept = {
        model._meta.label_lower: {
            "columns": _columns(model),
            "rows": model._base_manager.count(),
        }
        for model in kept_models()
    }
    return Manifest(
        made_at=at.isoformat(),
        migrations=sorted([app, name] for app, name in applied),
        tables=kept,
        log=list(log.head()),
        ledger=list(ledger.last()),
        key_id=keyring.key_id,
        master=base64.b64encode(keyring.master_to_seal()).decode(),
    )


def _rows() -> Iterator[Rows]:
    for model in kept_models():
        batch: list[list[object]] = []
        found = model._base_manager.order_by("pk").values_list(*_columns(model))
        for row in found.iterator(archive.ROWS):
            batch.append(list(row))
            if len(batch) == archive.ROWS:
                yield Rows(model._meta.label_lower, batch)
                batch = []
        if batch:
            yield Rows(model._meta.label_lower, batch)


def _files(faults: list[str], *, goes_on: bool) -> Iterator[SealedFile]:
    """Every file of the home. One that does not open is taken as it is, and is a fault.

    Raise Vanished where one that the register names is gone, unless `goes_on`: a file that is still
    missing then was so before, and is a fault too.
    """
    wanted = {folder: named(folder) for folder in STORES}
    for folder, storage in STORES.items():
        for name in sorted(wanted[folder] | set(storage().names())):
            try:
                file = storage().path_of(name).open("rb")
            except FileNotFoundError as error:
                if name in wanted[folder] and not goes_on:
                    raise Vanished(f"{folder}/{name}") from error
                faults += [f"{folder}/{name} is missing"] * (name in wanted[folder])
                continue
            with file:
                faults += [] if _opens(file, name) else [f"{folder}/{name} does not open"]
                size = file.seek(0, os.SEEK_END)
                file.seek(0)
                yield SealedFile(folder, name, size, _pieces(file))


def _pieces(file: BinaryIO) -> Iterator[bytes]:
    while piece := file.read(archive.PIECE):
        yield piece


def _opens(file: BinaryIO, name: str) -> bool:
    with suppress(SealBroken):
        for _ in open_chunks(file, keyring.subkey("file"), name, key_id=keyring.key_id):
            pass
        return True
    return False


def _forget_pages(path: Path) -> None:
    """What is read back next comes from the disk, not from what the system still remembers."""
    with path.open("rb") as file:
        os.posix_fadvise(file.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)


def bytes_needed() -> int:
    """About how many bytes a backup takes: those of the files and of the register."""
    files = 0
    for storage in STORES.values():
        for name in storage().names():
            with suppress(FileNotFoundError):  # let go just now
                files += storage().path_of(name).stat().st_size
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("SELECT page_count * page_size FROM pragma_page_count, pragma_page_size")
        else:
            cursor.execute("SELECT pg_database_size(current_database())")
        return files + int(cursor.fetchone()[0])
