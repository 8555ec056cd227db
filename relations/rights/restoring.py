"""Makes a home again from one backup, its key file and the ledger.

The key file comes into the home last of all: until then there is no home to open. Before the first
thing is written, a marker is, in the folder and, on PostgreSQL, in the database: what lies there
beside a marker is of a restore that was interrupted, and the next one takes it away and begins
anew. Nothing else is ever taken away.
"""

import base64
import secrets
import shutil
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Any, cast

from django.core.management import call_command
from django.core.management.color import no_style
from django.db import connection, models, transaction
from django.db.migrations.state import StateApps
from django.utils import timezone

from relations.privacy import heads, ledger, log, rekeying, tables
from relations.privacy.fields import Sealed, SealedField
from relations.privacy.files import STORES, write_whole
from relations.privacy.home import home
from relations.privacy.keys import keyring
from relations.privacy.ledger import LedgerBroken
from relations.privacy.month_keys import MonthKey, NoMonthKey
from relations.privacy.opening import let_in, new_cookie_key
from relations.privacy.slots import read_key_file, sync_folder

from . import archive
from .archive import Manifest, Rows, SealedFile
from .backing_up import KIND
from .models import Backup

MARKER = "restoring"  # the file, and the table where the register is on a server
MARKER_TABLE = "relations_restoring"
# What a restore puts into the folder before the key file; the lock stays with who holds it.
PUT = (
    *("register.db", "register.db-wal", "register.db-shm", "scans", "pictures"),
    *("ledger", "ledger.heads", "ledger.lock", "log.heads", "cookie.key", ".part-cookie.key"),
)
LOCK = "home.lock"


class Unrestorable(ValueError):  # noqa: N818 - read as a sentence where it is raised
    """It cannot be restored from this, or not here; the message says why, in plain words."""


@dataclass(frozen=True)
class Restored:
    """What came of a restore: `rows` and `files` put back; `faults`, what does not open in them."""

    manifest: Manifest
    rows: dict[str, int]
    files: int
    faults: list[str]


def refuse_what_is_there() -> None:
    """Raise Unrestorable unless folder and database are empty, or hold a restore's first half."""
    root = home().root
    if home().keys.is_file():
        raise Unrestorable(f"There is a home at {root}. A backup is restored into an empty one.")
    there = {path.name for path in root.iterdir()} - {LOCK} if root.is_dir() else set()
    if there and MARKER not in there:
        raise Unrestorable(f"{root} is not empty; a home is restored into an empty folder.")
    if connection.vendor != "sqlite":
        full = set(connection.introspection.table_names())
        if full and not (MARKER in there and _is_marked(full)):
            raise Unrestorable("The database has tables; a home is restored into an empty one.")


def is_half_done() -> bool:
    """Whether a restore into this home was begun and not finished."""
    return (home().root / MARKER).exists()


def key_of(file: Path, keys: Path) -> MonthKey:
    """The key of a backup, by the key file that is open. Raise Unrestorable."""
    try:
        return keyring.month_key_numbered(archive.number_of(file), keys)
    except archive.NotABackup as error:
        raise Unrestorable(f"{file} is {error}.") from error
    except NoMonthKey as error:
        if error.was_destroyed:
            raise Unrestorable(
                "The key of this backup's month was destroyed, as it is 90 days after the month's "
                "end. Nobody can open this backup any more."
            ) from error
        raise Unrestorable(
            f"{keys} does not know the key of this backup: it is older than the backup, or of "
            "another home. Give the newest one: --keys"
        ) from error


def restore(file: Path, keys: Path, beside: Path, key: MonthKey, manifest: Manifest) -> Restored:
    """Restore what `verify` has read whole; give what was put back.

    `beside`: the ledger. Raise Unrestorable where this site or the ledger is older than the backup:
    then the folder is empty again; StaysLocked where all is restored and the erasings cannot be
    done again.
    """
    _begin()
    try:
        _bring_ledger(beside, manifest)
        known = _tables(manifest)
    except Unrestorable:
        _clear()
        raise
    parts, files = archive.contents(file, key), 0
    rows: dict[str, int] = {}
    for kind, group in groupby(parts, key=type):
        if kind is Rows:
            rows = _put_rows(known, manifest, cast(Iterator[Rows], group))
        elif kind is SealedFile:
            files = sum(_put_file(part) for part in cast(Iterator[SealedFile], group))
    faults = _log_faults(manifest)
    call_command("migrate", verbosity=0)
    _note(manifest, file, files)
    new_cookie_key()
    _bring_keys(keys, manifest)
    return Restored(manifest, rows, files, [*faults, *open_up()])


def open_up() -> list[str]:
    """What follows once the keys are home: the rest of a rekey, the erasings; what does not open.

    From here on it is a home like any other, and all of this would happen when it is next opened.
    """
    if keyring.is_halfway:
        rekeying.finish()
    let_in()
    return rekeying.faults()


def _begin() -> None:
    """Leave a marker where nothing is, and nothing else where a marker was."""
    _clear()
    said = secrets.token_hex(16)
    write_whole(home().root / MARKER, [said.encode()], Path.replace)
    if connection.vendor != "sqlite":
        with connection.cursor() as cursor:
            cursor.execute(f"CREATE TABLE {MARKER_TABLE} AS SELECT %s AS said", [said])


def _clear() -> None:
    """Take away what an interrupted restore put there, its marker last."""
    root = home().root
    if connection.vendor != "sqlite":
        _drop(connection.introspection.table_names())
    connection.close()
    for name in (*PUT, MARKER):
        path = root / name
        shutil.rmtree(path) if path.is_dir() else path.unlink(missing_ok=True)
    sync_folder(root)


def _bring_ledger(beside: Path, manifest: Manifest) -> None:
    if beside.is_file():
        write_whole(home().root / "ledger", [beside.read_bytes()], Path.replace)
    try:
        there, mac = ledger.last()
    except LedgerBroken as error:
        raise Unrestorable(f"The ledger does not stand: {error}.") from error
    known, same = manifest.ledger
    if there < known or (there == known and mac != same and manifest.key_id == keyring.key_id):
        raise Unrestorable(
            f"The backup knows {known} erasings, the ledger {there}: who was erased would be back. "
            "Give the newest ledger: --ledger"
        )


def _is_marked(tables: set[str]) -> bool:
    """Whether the tables in this database are from the restore that the folder's marker is of."""
    if MARKER_TABLE not in tables:
        return False
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT said FROM {MARKER_TABLE}")  # noqa: S608 - a name of ours
        return [(home().root / MARKER).read_text()] == [said for (said,) in cursor.fetchall()]


def _drop(tables: Iterable[str]) -> None:
    quoted = ", ".join(connection.ops.quote_name(table) for table in tables)
    if quoted:
        with connection.cursor() as cursor:
            cursor.execute(f"DROP TABLE {quoted} CASCADE")


def _tables(manifest: Manifest) -> StateApps:
    """Make the tables as they were when the backup was made; raise Unrestorable if unknown."""
    try:
        return tables.make({(app, name) for app, name in manifest.migrations})
    except KeyError as error:
        raise Unrestorable(
            "This backup was made by a newer version of the site. Restore by that."
        ) from error


def _put_rows(known: StateApps, manifest: Manifest, group: Iterator[Rows]) -> dict[str, int]:
    """All rows in one transaction, with what ties them together checked at its end."""
    kept = {label: known.get_model(label) for label in manifest.tables}
    with transaction.atomic():
        for part in group:
            _insert(kept[part.table], manifest.tables[part.table]["columns"], part.rows)
        connection.check_constraints()
        there = {label: model._base_manager.count() for label, model in kept.items()}
        if there != manifest.counts:
            raise archive.Damaged("There are not as many rows as the backup says.")
        with connection.cursor() as cursor:
            for reset in connection.ops.sequence_reset_sql(no_style(), list(kept.values())):
                cursor.execute(reset)
    return there


def _insert(model: type[models.Model], columns: list[str], rows: list[list[Any]]) -> None:
    by_name = {field.attname: field for field in model._meta.local_concrete_fields}
    fields = [by_name[name] for name in columns]
    quote = connection.ops.quote_name
    names = ", ".join(quote(str(field.column)) for field in fields)
    places = ", ".join(["%s"] * len(fields))
    table = quote(model._meta.db_table)
    with connection.cursor() as cursor:
        cursor.executemany(
            f"INSERT INTO {table} ({names}) VALUES ({places})",  # noqa: S608 - names of ours
            [
                [_kept(field, value) for field, value in zip(fields, row, strict=True)]
                for row in rows
            ],
        )


def _kept(field: "models.Field[Any, Any]", value: Any) -> Any:
    """A value as this database keeps it; a sealed one stays the token that it is."""
    is_sealed = isinstance(field, SealedField) and value is not None
    return field.get_db_prep_save(Sealed(value) if is_sealed else value, connection)


def _put_file(part: SealedFile) -> int:
    STORES[part.folder]().put_back(part.name, part.pieces)
    return 1


def _log_faults(manifest: Manifest) -> list[str]:
    """What does not stand in the access log; it was so when the backup was made.

    No reason to restore nothing: but to be told.
    """
    broken = log.verify()
    found = [] if broken is None else [f"the access log is broken at line {broken}"]
    if list(log.head()) != manifest.log:
        found.append("the access log does not end where the backup says")
    return found


def _note(manifest: Manifest, file: Path, files: int) -> None:
    """What the register now knows of itself: that it is restored, when, and from what."""
    heads.keep(manifest.log[0], manifest.log[1])
    with transaction.atomic():
        row = Backup.objects.create(
            made_at=manifest.moment,
            log_seq=manifest.log[0],
            log_head=manifest.log[1],
            counts=manifest.counts,
            files=files,
            size=file.stat().st_size,
            restored_at=timezone.now(),
        )
        log.note(None, "restored", KIND, row.pk)


def _bring_keys(keys: Path, manifest: Manifest) -> None:
    """The last step: with the key file there is a home; then nothing is half done any more."""
    master = base64.b64decode(manifest.master)
    keyring.bring_home(read_key_file(keys), master, manifest.key_id)
    if connection.vendor != "sqlite":
        _drop([MARKER_TABLE])
    (home().root / MARKER).unlink()
    sync_folder(home().root)
