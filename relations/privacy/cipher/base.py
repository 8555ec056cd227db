"""Connects Django to SQLCipher: the key first, no file without a key, no key left behind."""

import datetime
import decimal
from collections.abc import Iterable, Mapping
from typing import Any

from django.core.exceptions import ImproperlyConfigured
from django.db import DatabaseError, OperationalError
from django.db.backends.base.client import BaseDatabaseClient
from django.db.backends.sqlite3 import base as stock
from django.db.backends.sqlite3._functions import (  # type: ignore[import-untyped] # Django brings no types
    register as register_functions,
)
from django.utils.dateparse import parse_date, parse_datetime, parse_time
from sqlcipher3 import dbapi2 as Database  # noqa: N812 - the name Django looks for

from relations.privacy.keys import Locked, keyring

for _name, _convert in {
    "bool": b"1".__eq__,
    "date": stock.decoder(parse_date),
    "time": stock.decoder(parse_time),
    "datetime": stock.decoder(parse_datetime),
    "timestamp": stock.decoder(parse_datetime),
}.items():
    Database.register_converter(_name, _convert)
Database.register_adapter(decimal.Decimal, str)
Database.register_adapter(datetime.date, stock.adapt_date)
Database.register_adapter(datetime.datetime, stock.adapt_datetime)

# After the key: erased text does not stay in free pages, readers and a writer do not wait for
# each other, and what is acknowledged is on the disk itself, also where fsync alone would not
# reach it.
PRAGMAS = (
    "PRAGMA secure_delete = ON",
    "PRAGMA journal_mode = WAL",
    "PRAGMA synchronous = FULL",
    "PRAGMA fullfsync = ON",
)
# Opened pages that a thread of the server keeps, in kB, since only a cold page costs its
# decryption: the whole register as it was at opening, within these limits. What reads all of a
# larger register than is kept finds every page cold; a small server has no room for more.
KEPT = (16_000, 64_000)
SIZE = ("PRAGMA page_count", "PRAGMA page_size")


class WrongKey(DatabaseError):  # noqa: N818 - read as a sentence where it is raised
    """The register does not open with the key that is held."""


class RegisterLocked(OperationalError, Locked):  # noqa: N818 - a state of the site
    """Locked, said so that Django's own commands take it for a database that is away."""


def key_pragma(key: bytes) -> str:
    """The statement that gives a raw key; another length would silently become a passphrase."""
    if len(key) != 32:
        raise ImproperlyConfigured("the register's key has 32 bytes")
    return f"PRAGMA key = \"x'{key.hex()}'\""


def _kept(connection: Any) -> int:
    """How much of the register its pages may take in memory, in kB."""
    least, most = KEPT
    pages, size = (int(connection.execute(asked).fetchone()[0]) for asked in SIZE)
    return min(max(least, pages * size // 1000), most)


class Cursor(Database.Cursor):  # type: ignore[misc,no-any-unimported,unused-ignore] # untyped package
    """SQLCipher's cursor with Django's placeholders."""

    convert_query = stock.SQLiteCursorWrapper.convert_query

    def execute(self, query: str, params: Any = None) -> Any:
        if params is None:
            return super().execute(query)
        names = list(params) if isinstance(params, Mapping) else None
        return super().execute(self.convert_query(query, param_names=names), params)

    def executemany(self, query: str, param_list: Iterable[Any]) -> Any:
        rows = list(param_list)
        names = list(rows[0]) if rows and isinstance(rows[0], Mapping) else None
        return super().executemany(self.convert_query(query, param_names=names), rows)


class NoClient(BaseDatabaseClient):
    """There is no shell on the register: the plain client cannot open it."""

    executable_name = "sqlcipher"

    def runshell(self, parameters: Iterable[str]) -> None:
        raise ImproperlyConfigured("the register has no shell: it opens inside the site only")


class DatabaseWrapper(stock.DatabaseWrapper):
    """One connection; it closes itself when the key it was opened with has been let go."""

    display_name = "SQLCipher"
    Database = Database
    client_class = NoClient  # type: ignore[assignment] # refuses, whatever it is asked
    transaction_mode: str | None
    init_commands: list[str]
    _generation = -1

    def get_connection_params(self) -> dict[str, Any]:
        params: dict[str, Any] = super().get_connection_params()
        params.setdefault("timeout", 20)
        # A deferred transaction that has read cannot become a writer under load.
        self.transaction_mode = self.transaction_mode or "IMMEDIATE"
        return params

    def get_new_connection(self, conn_params: dict[str, Any]) -> Any:
        self._generation = keyring.generation
        if self.is_in_memory_db():
            connection = Database.connect(**conn_params)
        else:
            connection = self._opened(conn_params)
        register_functions(connection)
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA legacy_alter_table = OFF")
        for command in self.init_commands:
            if command := command.strip():
                connection.execute(command)
        return connection

    def _opened(self, conn_params: dict[str, Any]) -> Any:
        """The file, opened; without a key not even an empty one is made."""
        try:
            key = key_pragma(keyring.subkey("database"))
        except Locked as error:
            raise RegisterLocked(str(error)) from error
        connection = Database.connect(**conn_params)
        try:
            self._turn_key(connection, key)
        except BaseException:
            connection.close()
            raise
        return connection

    def _turn_key(self, connection: Any, key: str) -> None:
        connection.execute("PRAGMA cipher_log_level = NONE")
        connection.execute(key)
        try:
            connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
        except Database.OperationalError:
            raise  # the disk's fault, not the key's
        except Database.DatabaseError as error:
            raise WrongKey("the register does not open with this key") from error
        for pragma in (*PRAGMAS, f"PRAGMA cache_size = -{_kept(connection)}"):
            connection.execute(pragma)

    def ensure_connection(self) -> None:
        is_old = self.connection is not None and self._generation != keyring.generation
        if is_old and not self.is_in_memory_db():
            self.close()
        super().ensure_connection()

    def create_cursor(self, name: str | None = None) -> Any:
        return self.connection.cursor(factory=Cursor)
