"""Looks over everything a home holds, and says in plain words what does not stand."""

import uuid
from collections.abc import Iterable, Iterator
from datetime import timedelta
from typing import Any

from django.apps import apps
from django.db import DatabaseError, connection, models, transaction
from django.utils import timezone

from . import heads, ledger, log
from .cipher.base import WrongKey
from .crypt import SealBroken
from .failing import Why, why
from .fields import SealedField
from .files import STORES, SealedStorage, named

BATCH = 500  # rows at a time
# No press takes so long: what no row refers to after it was never acknowledged.
YOUNG = timedelta(days=1)


def faults() -> list[str]:
    """What is damaged, missing or older than it should be, in plain words; the worst first.

    The register by its own checks, the access log and the ledger by their chains and by the heads
    kept outside, each sealed value and each sealed file by opening it. A register that cannot be
    read to its end hides the rest; what was found until then is told.
    """
    found: list[str] = []
    try:
        for part in (_register, _log, _ledger, _values, _files):
            found += part()
    except WrongKey:
        found.append(
            "The register does not open: it was cut, what it opens with is damaged, "
            "or it is another home's."
        )
    except DatabaseError as error:
        if why(error) is Why.FULL:
            found.append("The disk is full. Make room on it first, then look again.")
        elif not found:
            found.append(f"The register cannot be read to its end: {error}.".replace("\n", " "))
    return found


def _register() -> Iterator[str]:
    """The embedded file, page by page; a server's tables, by reading them whole."""
    if connection.vendor == "postgresql":
        yield from _tables()
    elif not connection.is_in_memory_db():  # type: ignore[attr-defined] # of the embedded one
        yield from _pages()


def _tables() -> Iterator[str]:
    """What is not sealed is checked by the server's own page checksums, where it has them."""
    for table in connection.introspection.table_names():
        try:
            with transaction.atomic(), connection.cursor() as cursor:
                # As text, so that values that are kept apart from their row are read too.
                name = connection.ops.quote_name(table)
                cursor.execute(f"SELECT sum(length(t::text)) FROM {name} AS t")  # noqa: S608 # ours
        except DatabaseError as error:
            yield f"The register is damaged: {table} cannot be read: {error}.".replace("\n", " ")


def _pages() -> Iterator[str]:
    with connection.cursor() as cursor:
        # Pages that wait in the journal would be taken for damaged ones.
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()
        broken = [str(row[0]) for row in cursor.execute("PRAGMA cipher_integrity_check")]
        if broken:
            yield f"The register is damaged: {broken[0]} ({len(broken)} in all)."
            return
        (said,) = cursor.execute("PRAGMA quick_check(1)").fetchone()
        if said != "ok":
            yield f"The register is damaged: {said}."


def _log() -> Iterator[str]:
    """The first line of the log that does not stand, or that the heads know and it does not."""
    end = log.head()[0]
    if (seq := log.verify()) is not None:
        yield (
            f"The access log is broken at line {seq}: it was changed, put in or taken out."
            + (f" The log ends at line {end}." if seq > end else "")
        )
    elif (seq := log.missing_head()) is not None and seq > end:
        yield (
            f"The register is older than it was: its log ends at line {end}, and line "
            f"{max(kept for kept, _ in heads.read())} was there already. "
            "An older file was put back, or the end of this one was cut."
        )
    elif seq is not None:
        yield f"The access log is broken at line {seq}: it is not the line that was there."


def _ledger() -> Iterator[str]:
    """The first line of the ledger that does not stand; at the next opening it keeps all out."""
    try:
        ledger.entries()
    except ledger.LedgerBroken as error:
        yield f"{str(error)[0].upper()}{str(error)[1:]}."


def _values() -> Iterator[str]:
    """Each sealed value that does not open."""
    for model, fields in sealed_models():
        names = [field.attname for field in fields]
        for row in model._base_manager.only("pk", *names).order_by("pk").iterator(BATCH):
            for name in names:
                try:
                    getattr(row, name)
                except SealBroken as error:
                    yield f"A sealed value is damaged: {error}."


def sealed_models() -> Iterator[tuple[type[models.Model], list[SealedField[Any, Any]]]]:
    """Each model that has sealed fields, with them."""
    for model in apps.get_models():
        fields = [one for one in model._meta.local_concrete_fields if isinstance(one, SealedField)]
        if fields and not model._meta.proxy:
            yield model, fields


def _stores() -> Iterable[tuple[SealedStorage, set[str]]]:
    """Each store with the keys of all the files that some row refers to."""
    return [(store(), named(folder)) for folder, store in STORES.items()]


def _files() -> Iterator[str]:
    """Each sealed file that is not there, or does not open to its end."""
    for storage, wanted in _stores():
        there = set(storage.names())
        for name in sorted(wanted - there):
            yield f"The sealed file {name} is not there."
        for name in sorted(there):
            try:
                storage.open(name).close()
            except (SealBroken, FileNotFoundError):
                yield f"The sealed file {name} is damaged: it does not open to its end."


def unreferenced() -> list[tuple[SealedStorage, str]]:
    """The files no row refers to, a day old or more: a press was cut off between file and row.

    Nobody was told that they were kept. A register that is older than its files has many.
    """
    young = (timezone.now() - YOUNG).timestamp()
    return [
        (storage, name)
        for storage, wanted in _stores()
        for name in sorted(set(storage.names()) - wanted)
        if _is_key(name) and storage.path_of(name).stat().st_mtime < young
    ]


def _is_key(name: str) -> bool:
    """Whether the site itself gave a file this name."""
    try:
        return str(uuid.UUID(name)) == name
    except ValueError:
        return False
