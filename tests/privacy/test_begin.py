"""Beginning a real home: everything is asked first, and nothing half-made stays."""

import io
import os
import subprocess
import sys

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.db import connection

from relations.privacy import opening, slots
from relations.privacy.crypt import Cost
from relations.privacy.home import home
from relations.privacy.keys import keyring
from relations.privacy.management.commands import begin
from relations.privacy.models import Role, User

MASTER = bytes(range(32))
CODE = "0000-1111-2222-3333-4444-5555-6666"
PASSPHRASE, PASSWORD = "six words that nobody guesses", "a boat, a lamp, a wall"
KEEPERS = "a key under the third stone"
ANSWERS = [
    *(PASSPHRASE, PASSPHRASE, "0000 1111 2222 3333 4444 5555 6666"),
    *(KEEPERS, KEEPERS),
    *("mara", "Mara", PASSWORD, PASSWORD),
    *("loic", "Loïc", PASSWORD + " 2", PASSWORD + " 2"),
    "",
]

pytestmark = [pytest.mark.unlocked, pytest.mark.django_db]


@pytest.fixture(autouse=True)
def empty(tmp_path, settings, monkeypatch):
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    monkeypatch.setattr(opening, "new_recovery_code", lambda: CODE)
    # The tables of this test are there already.
    monkeypatch.setattr(begin, "call_command", lambda *args, **kwargs: None)
    monkeypatch.setattr(begin.tables, "make_all", lambda: None)
    monkeypatch.setattr(connection.introspection, "table_names", list)
    settings.RELATIONS_HOME = tmp_path / "home"
    keyring.lock()
    yield
    keyring.hold(MASTER)


@pytest.fixture
def begun(monkeypatch):
    def begun(answers):
        monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{line}\n" for line in answers)))
        said = io.StringIO()
        call_command("begin", stdout=said)
        return said.getvalue()

    return begun


def changed(place, answer):
    return [*ANSWERS[:place], answer, *ANSWERS[place + 1 :]]


def test_a_home_begins_with_its_keys_and_first_users(begun):
    said = begun(ANSWERS)
    assert said.count(CODE) == 1
    assert PASSPHRASE not in said
    assert PASSWORD not in said
    assert {user.username: (user.called, user.role) for user in User.objects.all()} == {
        "mara": ("Mara", Role.ARTIST),
        "loic": ("Loïc", Role.ASSISTANT),
    }
    assert User.objects.get(username="mara").check_password(PASSWORD)


def test_artist_and_keeper_begin_with_codes_and_whose_password_was_typed_here_with_their_own(begun):
    begun([*ANSWERS[:-1], "aude", "Aude", PASSWORD + " 3", PASSWORD + " 3"])
    first = User.objects.values_list("username", "must_choose_password", "must_set_up_codes")
    assert set(first) == {
        ("mara", False, True),
        ("loic", True, False),
        ("aude", True, True),
    }


@pytest.mark.parametrize(
    ("said", "slot"), [(PASSPHRASE, "passphrase"), (CODE, "recovery"), (KEEPERS, "keeper")]
)
def test_artist_keeper_and_recovery_code_each_open_it_again(begun, said, slot):
    begun(ANSWERS)
    keyring.lock()
    assert keyring.unlock(said) == slot


@pytest.mark.parametrize(
    ("place", "answer", "told"),
    [
        (0, "fourteen signs", "15 characters"),
        (1, "six words that nobody gueses", "not the same"),
        (2, "0000-1111", "not the code"),
        (3, "fourteen signs", "15 characters"),
        (4, "a key under the third stole", "not the same"),
        (5, "", "cannot be blank"),
        (7, "short", "needs 15 characters"),
        (8, "a boat, a lamp, a well", "not the same"),
        (9, "mara", "two different"),
    ],
)
def test_a_wrong_answer_ends_it_and_nothing_is_made(begun, place, answer, told):
    with pytest.raises(CommandError, match=told):
        begun(changed(place, answer))
    assert not home().root.exists()
    assert not User.objects.exists()
    assert keyring.locked


def test_a_passphrase_of_15_signs_is_long_enough(begun):
    begun([*["fifteen signs !"] * 2, *ANSWERS[2:]])
    assert not keyring.locked


def test_a_keeper_may_choose_a_passphrase_later(begun):
    begun([*ANSWERS[:3], "", *ANSWERS[5:]])
    kept = slots.read_key_file(home().keys)
    assert [slot["name"] for slot in kept["slots"]] == ["passphrase", "recovery"]


def test_a_keeper_with_the_artists_passphrase_would_not_be_told_apart(begun):
    with pytest.raises(CommandError, match="another passphrase"):
        begun([*ANSWERS[:3], PASSPHRASE, PASSPHRASE, *ANSWERS[5:]])
    assert not home().root.exists()


def test_a_folder_that_holds_anything_is_refused(begun):
    home().root.mkdir()
    (home().root / "notes.txt").write_text("mine")
    with pytest.raises(CommandError, match="not empty"):
        begun(ANSWERS)


def test_a_server_database_with_tables_is_refused(begun, monkeypatch):
    monkeypatch.setattr(begin, "connection", FullServer)
    with pytest.raises(CommandError, match="already has tables"):
        begun(ANSWERS)
    assert not home().root.exists()


class FullServer:
    """A PostgreSQL server in which somebody's tables are."""

    vendor = "postgresql"

    class introspection:  # noqa: N801 - as Django names it
        @staticmethod
        def table_names():
            return ["privacy_user"]


TYPED = f"""
import django
from django.core.management import call_command
django.setup()
from relations.privacy import opening
opening.new_recovery_code = lambda: {CODE!r}
call_command("begin")
"""


def test_typed_for_real_a_home_is_made_sealed(tmp_path):
    """The command as a person runs it: its own process, a file, the real cost of the slots."""
    if connection.vendor != "sqlite":
        pytest.skip("makes the embedded register")
    root = tmp_path / "typed"
    done = subprocess.run(
        [sys.executable, "-c", TYPED],
        input="".join(f"{line}\n" for line in ANSWERS),
        text=True,
        capture_output=True,
        check=False,
        env={**os.environ, "RELATIONS_HOME": str(root), "RELATIONS_TODAY": ""},
    )
    assert done.returncode == 0, done.stderr
    assert {path.name for path in root.iterdir()} >= {"keys.json", "cookie.key", "register.db"}
    assert (root / "register.db").read_bytes()[:16] != b"SQLite format 3\x00"
    assert {path.stat().st_mode & 0o777 for path in root.iterdir()} == {0o600}
