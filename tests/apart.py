"""A home of its own on a real disk, used by processes of their own, on either database.

The tests' own register is in memory, where threads share one lock; what several writers do to each
other, and what a killed one leaves behind, shows here only.
"""

import os
import secrets
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

from django.db import connection

from tests.clone import ROOT, compiled
from tests.postgres import new_database

# Not measured: a process that is killed could not say what it walked through.
OURS = ("COVERAGE_", "COV_", "PYTEST_")
OPEN = """
import json, os, sys
import django
django.setup()
from relations.privacy.keys import keyring
keyring.hold(bytes(range(32)))
"""
TABLES = """
from relations.privacy import tables
tables.make_all()
"""


@dataclass(frozen=True)
class Apart:
    """A home in `home`, with the database at `address`, or the embedded one where that is empty."""

    home: Path
    address: str = ""

    def environment(self, **more: str) -> dict[str, str]:
        """What a process of this home is started with."""
        plain = {key: said for key, said in os.environ.items() if not key.startswith(OURS)}
        ours = {"RELATIONS_HOME": str(self.home), "RELATIONS_DATABASE_URL": self.address}
        return plain | compiled() | ours | more

    def start(self, script: str, *arguments: str, **more: str) -> subprocess.Popen:
        """Start a script inside the open home; it speaks to us through its standard streams."""
        return subprocess.Popen(
            [sys.executable, "-c", OPEN + script, *arguments],
            cwd=ROOT,
            env=self.environment(**more),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )

    def all(self, script: str, *arguments: tuple[str, ...], **more: str) -> list[str]:
        """Run a script several times at once, with these arguments; what each printed."""
        processes = [self.start(script, *said, **more) for said in arguments]
        told = [process.communicate() for process in processes]
        for process, (_, fault) in zip(processes, told, strict=True):
            assert process.returncode == 0, fault
        return [said for said, _ in told]

    def run(self, script: str, *arguments: str, **more: str) -> str:
        """Run a script to its end; what it printed."""
        return self.all(script, arguments, **more)[0]


def address_of_ours() -> str:
    """Where the server of this test run is; empty on the embedded database."""
    if connection.vendor == "sqlite":
        return ""
    said = connection.settings_dict
    who = f"{quote(said['USER'])}:{quote(said['PASSWORD'])}"
    return f"postgresql://{who}@{said['HOST']}:{said['PORT']}/{said['NAME']}"


def home_apart(folder: Path, made_by: str = TABLES) -> Apart:
    """A new home with all its tables and nobody in it, on the database of this test run."""
    address = address_of_ours()
    if address:
        address = new_database(address, f"apart_{secrets.token_hex(4)}")
    made = Apart(folder, address)
    made.run(made_by)
    return made
