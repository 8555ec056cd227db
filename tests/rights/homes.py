"""Homes of their own for backups: each with its folder and its own register, of either database."""

import itertools
import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import psycopg
from django.conf import settings
from django.db import connection, connections

from relations.documents.models import Page, Scan, Upload
from relations.people.models import Participant
from relations.pictures.models import Picture
from relations.privacy import log, opening, slots, tables
from relations.privacy.crypt import Cost
from relations.privacy.files import light_copies, scans
from relations.privacy.keys import keyring
from relations.privacy.models import Role, User
from tests.rows import AT, USUAL, make

PASSPHRASE, KEEPERS, CODE = "six words that nobody guesses", "a boat at night, unlit", "0" * 28
SAID = {"passphrase": PASSPHRASE, "keeper": KEEPERS, "recovery": CODE}
CHEAP = dict.fromkeys(slots.COSTS, Cost(8, 1, 1))
MASTER = bytes(range(32))
ROLES = {Role.ARTIST: "mara", Role.ASSISTANT: "noe", Role.WORDING_READER: "ida", Role.KEEPER: "ulf"}
# What signed papers and pictures are in these homes: below one chunk, and above some.
SCAN, COPY = b"signed on the quay " * 30_000, b"small " * 100
_numbers = itertools.count(1)


@dataclass(frozen=True)
class Place:
    """A folder, and the database in which its register lies: the name of one, or in the folder."""

    root: Path
    database: str = ""

    @property
    def settings(self) -> dict[str, Any]:
        usual = connections.settings["default"]
        if self.database:
            return {**usual, "NAME": self.database}
        options = {"transaction_mode": "IMMEDIATE", "timeout": 20}
        own = {"ENGINE": "relations.privacy.cipher", "NAME": self.root / "register.db"}
        return {**usual, **own, "OPTIONS": options, "CONN_MAX_AGE": None, "TEST": usual["TEST"]}


@contextmanager
def standing_at(place: Place, patch: Any) -> Iterator[None]:
    """The site, its home and its register here; in threads that begin meanwhile too."""
    before, usual = connections["default"], connections.settings["default"]
    patch.setattr(settings, "RELATIONS_HOME", place.root)
    connections.settings["default"] = place.settings
    connections["default"] = connections.create_connection("default")
    try:
        yield
    finally:
        connections["default"].close()
        connections.settings["default"] = usual
        connections["default"] = before
        with suppress(KeyError):
            os.close(opening._held.pop(place.root))
        keyring.hold(MASTER)


def fill() -> None:
    """A row of every table, one user in each role, and files that rows name."""
    for role, name in ROLES.items():
        User.objects.create_user(name, None, role=role, called=name.title())
    for model in USUAL.keys() - {Scan}:  # which names a file
        make(model)
    # Or they would name files too.
    Page.objects.update(place="filed", file="")
    Upload.objects.update(file="", ended_at=AT)
    make(Participant, code="07", call_name="Zéphirine", languages="fr")
    for _ in range(3):
        make(Scan, file=scans().save(SCAN))
        make(Picture, light_copy=light_copies().save(COPY), light_copy_type="image/png")
    for _ in range(5):
        log.note(User.objects.get(username="mara"), "read", "people.phone", None)


def begin() -> None:
    """Make the home and its tables, and fill it."""
    opening.make_home("real", SAID)
    tables.make_all()
    fill()


class Databases:
    """Empty databases on the server that the tests run on, or none where there is no server."""

    def __init__(self) -> None:
        self.is_server = connection.vendor == "postgresql"
        self._made: list[str] = []

    def new(self, template: str = "template0") -> str:
        """The name of a database, alike to the template; "" for a register in the folder."""
        if not self.is_server:
            return ""
        name = f"home_{os.getpid()}_{next(_numbers)}"
        self._run(f'CREATE DATABASE "{name}" TEMPLATE "{template}"')
        self._made.append(name)
        return name

    def drop_all(self) -> None:
        for name in self._made:
            self._run(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)')

    def _run(self, statement: str) -> None:
        usual = connections.settings["default"]
        with psycopg.connect(
            host=usual["HOST"],
            port=usual["PORT"],
            user=usual["USER"],
            password=usual["PASSWORD"],
            dbname="postgres",
            autocommit=True,
        ) as server:
            server.execute(statement)


def counts_by_table() -> dict[str, int]:
    """How many rows each table of the register has, asked of the database itself."""
    with connection.cursor() as cursor:
        names = sorted(connection.introspection.table_names(cursor))
        found = {}
        for name in names:
            cursor.execute(f'SELECT count(*) FROM "{name}"')  # noqa: S608 - from the database
            found[name] = cursor.fetchone()[0]
    return found
