"""The server is killed while four people write: nothing is lost, nothing is there twice."""

import itertools
import secrets
import socket
import sys
import time
from collections.abc import Iterator

import pytest
from django.db import connection

from tests import postgres
from tests.apart import Apart
from tests.killing import MAKE, Killing, Site

pytestmark = pytest.mark.django_db
ACTS_A_KILL = 60  # more than four people manage until the next
# A database server takes seconds to mend itself: it is crashed with the site every so often.
CRASHES_EACH = 4


@pytest.fixture
def killing(tmp_path, request) -> Iterator[Killing]:
    """A home that is served, on the database of this run; a server that is crashed too."""
    made = Killing(Site(Apart(tmp_path), _free_port()), secrets.randbelow(10**6))
    if connection.vendor == "sqlite":
        yield made
        return
    with postgres.running(postgres.DURABLE) as server:
        made.site.apart = Apart(tmp_path, server.new_database("killed"))

        rounds = itertools.count(1)

        def crash() -> None:
            if next(rounds) % CRASHES_EACH == 0:
                server.crash()
                server.start()

        made.crash = crash
        yield made


def _free_port() -> int:
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        return listener.getsockname()[1]


def kill(killing: Killing, kills: int, capsys: pytest.CaptureFixture[str]) -> None:
    killing.site.apart.run(MAKE, str(kills * ACTS_A_KILL))
    began = time.monotonic()
    killing.run(kills)
    seconds = time.monotonic() - began
    with capsys.disabled():
        sys.stdout.write(f"\n{kills} kills ({connection.vendor}) in {seconds:.0f} s; {killing}\n")
    assert not killing.faults, "\n".join([str(killing), *killing.faults])
    assert killing.resent > 0, "no kill met anybody writing"


def test_twenty_kills_lose_nothing_that_was_acknowledged(killing, capsys):
    kill(killing, 20, capsys)


@pytest.mark.long
def test_two_hundred_kills_lose_nothing_that_was_acknowledged(killing, capsys):
    killing.is_patient = True
    kill(killing, 200, capsys)
