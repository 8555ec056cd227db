"""One command makes the rehearsal home, fills it once, and serves it."""

import hashlib
import io
import time

import pytest
from django.core.management import call_command

from relations.privacy import slots, tables
from relations.privacy.crypt import Cost
from relations.privacy.home import home
from relations.privacy.keys import keyring
from relations.today.management import rehearsal
from relations.today.management.commands import demo
from tests import cast
from tests.clone import Clone

FEW_SECONDS = 10.0
# A server that was ended leaves its journal beside the register until somebody opens it again.
TAKE_JOURNAL_IN = """
import django
django.setup()
from django.db import connection
from relations.privacy.keys import keyring
keyring.unlock_rehearsal()
connection.cursor().execute("PRAGMA wal_checkpoint(TRUNCATE)")
connection.close()
"""


class TestCommand:
    """In this process: the home is made, and the rest is only seen to be asked for."""

    pytestmark = [pytest.mark.unlocked, pytest.mark.django_db]

    @pytest.fixture(autouse=True)
    def asked(self, tmp_path, settings, monkeypatch):
        """What the command asked others to do, in order."""
        asked = []

        def fill():
            asked.append("fill")
            cast.artist()
            return 1468

        monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
        monkeypatch.setattr(tables, "bring_up", lambda: asked.append("tables"))
        monkeypatch.setattr(demo, "serve", lambda *, port: asked.append(port))
        monkeypatch.setattr(rehearsal, "fill", fill)
        settings.RELATIONS_HOME = tmp_path / "rehearsal"
        keyring.lock()
        yield asked
        keyring.hold(bytes(range(32)))

    def run(self, **options):
        said = io.StringIO()
        call_command("demo", stdout=said, **options)
        return said.getvalue()

    def test_first_run_makes_a_home_that_opens_itself_and_fills_it(self, asked):
        said = self.run(no_serve=True)
        assert asked == ["tables", "fill"]
        assert home().is_rehearsal
        assert "1468 presses entered." in said

    def test_second_run_opens_what_is_there(self, asked):
        self.run(no_serve=True)
        master = keyring.subkey("database")
        keyring.lock()
        self.run(no_serve=True)
        assert asked == ["tables", "fill", "tables"]
        assert keyring.subkey("database") == master

    def test_address_and_everybody_who_may_sign_in_are_said(self, asked):
        said = self.run(port=8123)
        assert "http://127.0.0.1:8123/" in said
        for user in rehearsal.users():
            assert user["username"] in said
            assert user["password"] in said
        assert asked[-1] == 8123

    def test_it_says_that_the_people_are_invented(self):
        assert "Do not add real ones here" in self.run(no_serve=True)


def digests(filled: Clone) -> dict[str, str]:
    """Every file of the home with the digest of its bytes."""
    return {
        str(path.relative_to(filled.rehearsal)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in filled.rehearsal.rglob("*")
        if path.is_file()
    }


def test_second_run_ends_soon_and_changes_nothing(filled_clone: Clone) -> None:
    filled_clone.read(TAKE_JOURNAL_IN, RELATIONS_HOME=str(filled_clone.rehearsal))
    before = digests(filled_clone)
    began = time.monotonic()
    again = filled_clone.run("demo", "--no-serve")
    took = time.monotonic() - began
    assert again.returncode == 0, again.stderr
    assert "presses entered" not in again.stdout
    assert took < FEW_SECONDS
    assert digests(filled_clone) == before
    assert {"keys.json", "register.db"} <= set(before)
