"""Puts everything a home holds under a new master key; killed at any moment, it goes on later.

Each thing says itself under which master it is: the register by opening, a value and a file by
the number they begin with. So nothing counts how far it came, and what is done is not done twice.
"""

import uuid
from pathlib import Path
from typing import Any

from django.contrib.sessions.models import Session
from django.db import connection, models, transaction
from sqlcipher3 import dbapi2

from . import ledger, log, outbox
from .cipher.base import key_pragma
from .crypt import SealBroken
from .damage import faults as faults  # what must stand before it is begun
from .damage import sealed_models
from .fields import SealedField, mark
from .files import STORES, SealedStorage
from .home import home
from .keys import keyring
from .opening import new_cookie_key

BATCH = 500  # rows in one transaction

Fields = list[SealedField[Any, Any]]


def begin(secrets_by_slot: dict[str, str]) -> None:
    """Make a new master key, wrapped under each secret; from here on only `finish` may follow.

    Secrets and slots as for `slots.new_key_file`. Nobody else may have the home open.
    """
    keyring.begin_rekey(secrets_by_slot, log.head()[0])


def finish() -> None:
    """Put all that is still under the master before under that of now, then let that one go.

    Marks of numbers are made anew with their rows. Marks of those who may never be rung cannot
    be: their numbers were let go. They keep their key, which the key file carries on, sealed.
    Raise SealBroken where something opens under neither; both masters stay then.
    """
    register_under_new_key()
    for model, fields in sealed_models():
        _reseal_rows(model, fields)
    for storage in (store() for store in STORES.values()):
        _reseal_files(storage)
    ledger.rekey()
    # Whoever holds the master before and a copy of the register has the private key in it.
    outbox.renew()
    # Whoever holds a copy of the home has the key that signs cookies too.
    new_cookie_key()
    with transaction.atomic():
        Session.objects.all().delete()
        log.note(None, "rekeyed", log.OWN, None)
    keyring.end_rekey()


def register_under_new_key() -> None:
    """The embedded register's own key; a database server has none."""
    if connection.vendor != "sqlite" or connection.is_in_memory_db():  # type: ignore[attr-defined]
        return
    connection.close()
    new = key_pragma(keyring.subkey("database"))
    if not _opens(home().database, new):
        register = dbapi2.connect(str(home().database), isolation_level=None, timeout=20)
        try:
            register.execute(key_pragma(keyring.former_subkey("database")))
            # Else pages under the old key would wait beside a file under the new one.
            register.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()
            register.execute(new.replace("PRAGMA key", "PRAGMA rekey", 1))
            register.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()
        finally:
            register.close()
    if not _opens(home().database, new):
        raise SealBroken("the register opens under neither key")


def _opens(path: Path, key: str) -> bool:
    register = dbapi2.connect(str(path), isolation_level=None, timeout=20)
    try:
        register.execute("PRAGMA cipher_log_level = NONE")
        register.execute(key)
        register.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except dbapi2.DatabaseError:
        return False
    finally:
        register.close()
    return True


def _reseal_rows(model: type[models.Model], fields: Fields) -> None:
    last: uuid.UUID | None = None
    while True:
        with transaction.atomic():
            rows = model._base_manager.order_by("pk").select_for_update()
            rows = rows.only("pk", *(field.attname for field in fields))
            batch = list((rows if last is None else rows.filter(pk__gt=last))[:BATCH])
            for row in batch:
                if changed := _changed(row, fields):
                    model._base_manager.filter(pk=row.pk).update(**changed)
        if not batch:
            return
        last = batch[-1].pk


def _changed(row: models.Model, fields: Fields) -> dict[str, Any]:
    """The values of one row that were under the master before, and the marks made from them."""
    marked: dict[str, str] = getattr(row, "MARKED", {})
    changed: dict[str, Any] = {}
    for field in fields:
        token = row.__dict__[field.attname]
        if token is None or (new := field.resealed(token, row.pk)) == token:
            continue
        changed[field.attname] = row.__dict__[field.attname] = new
        for name in (name for name, source in marked.items() if source == field.attname):
            value = getattr(row, field.attname)
            changed[name] = mark(value) if value else None
    return changed


def _reseal_files(storage: SealedStorage) -> None:
    storage.sweep()
    for name in storage.names():
        storage.reseal(name)
