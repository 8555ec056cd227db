"""Making and opening a home from the command line."""

import argparse
import io
import os
import resource
import sys

import pytest
from django.core.management.base import CommandError
from django.db import DatabaseError

from relations.privacy import keys, opening, slots
from relations.privacy.crypt import Cost
from relations.privacy.home import home
from relations.privacy.keys import keyring
from relations.privacy.ledger import LedgerBroken

MASTER = bytes(range(32))
PASSPHRASE = "six words that nobody guesses"
REAL = {"passphrase": PASSPHRASE, "recovery": "0" * 28}

pytestmark = pytest.mark.unlocked


@pytest.fixture(autouse=True)
def empty(tmp_path, settings, monkeypatch):
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    settings.RELATIONS_HOME = tmp_path / "home"
    # What is done at an opening looks into the database, and these tests have none.
    settings.RELATIONS_ON_OPENING = []
    keyring.lock()
    mask = os.umask(0o022)
    yield
    os.umask(mask)
    keyring.hold(MASTER)


@pytest.fixture
def typed(monkeypatch):
    def say(*lines):
        monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{line}\n" for line in lines)))

    say()
    return say


def test_a_real_home_is_made_for_its_owner_alone_and_opens_again(typed):
    opening.make_home("real", REAL)
    assert home().root.stat().st_mode & 0o777 == 0o700
    assert {path.name: path.stat().st_mode & 0o777 for path in home().root.iterdir()} == {
        "keys.json": 0o600,
        "cookie.key": 0o600,
    }
    assert len((home().root / "cookie.key").read_text()) >= 50
    field = keyring.subkey("field")
    keyring.lock()
    typed(PASSPHRASE)
    opening.open_home()
    assert keyring.subkey("field") == field


def test_no_secret_lies_in_a_real_home(typed):
    opening.make_home("real", REAL)
    master = bytes(keyring._master)
    for path in home().root.iterdir():
        content = path.read_bytes()
        assert PASSPHRASE.encode() not in content
        assert master not in content
        assert master.hex().encode() not in content


def test_a_home_is_not_made_twice(typed):
    opening.make_home("real", REAL)
    with pytest.raises(FileExistsError):
        opening.make_home("real", REAL)


def test_a_rehearsal_opens_without_a_word(typed):
    opening.make_home("rehearsal", {"open": "in it"})
    keyring.lock()
    opening.open_home()
    assert not keyring.locked


def test_an_open_home_is_not_asked_for_again(typed):
    keyring.hold(MASTER)
    opening.open_home()


def test_where_there_is_no_home_that_is_said(typed):
    with pytest.raises(CommandError, match="no home"):
        opening.open_home()


def test_a_third_wrong_passphrase_ends_it_and_each_wrong_one_makes_wait(typed, monkeypatch):
    moment, slept = [1000.0], []

    def sleep(seconds):
        slept.append(seconds)
        moment[0] += seconds

    monkeypatch.setattr(opening.time, "sleep", sleep)
    monkeypatch.setattr(keys.time, "monotonic", lambda: moment[0])
    opening.make_home("real", REAL)
    keyring.lock()
    typed("wrong", "wrong", "wrong", PASSPHRASE)
    with pytest.raises(CommandError, match="stays locked"):
        opening.open_home()
    assert keyring.locked
    assert slept == [0.5, 1.0]
    moment[0] += 60
    typed("wrong", PASSPHRASE)
    opening.open_home()
    assert not keyring.locked


def test_a_person_at_the_keyboard_types_secrets_unseen(monkeypatch):
    class Keyboard(io.StringIO):
        def isatty(self):
            return True

    monkeypatch.setattr(sys, "stdin", Keyboard("a name\n"))
    monkeypatch.setattr(opening.getpass, "getpass", lambda prompt: f"unseen {prompt}")
    assert opening.ask("Passphrase: ", hidden=True) == "unseen Passphrase: "
    assert opening.ask("Name: ") == "a name"


def test_answers_that_end_too_soon_are_said(typed):
    with pytest.raises(CommandError, match="ended"):
        opening.ask("Name: ")


def test_a_crash_writes_no_core_and_new_files_are_for_their_owner_alone(tmp_path):
    opening.guard_process()
    assert resource.getrlimit(resource.RLIMIT_CORE) == (0, 0)
    (tmp_path / "file").touch()
    assert (tmp_path / "file").stat().st_mode & 0o777 == 0o600


@pytest.fixture
def credential(tmp_path, monkeypatch):
    """A folder as systemd makes it; what the file in it says."""
    folder = tmp_path / "credentials"
    folder.mkdir(mode=0o700)
    monkeypatch.setenv("CREDENTIALS_DIRECTORY", str(folder))

    def says(said, mode=0o400):
        (folder / "passphrase").write_text(said)
        (folder / "passphrase").chmod(mode)

    return says


@pytest.fixture
def real():
    opening.make_home("real", REAL)
    keyring.lock()


def test_a_credential_file_opens_the_home_with_nobody_there(real, typed, credential):
    credential(PASSPHRASE + "\n")
    opening.open_home()
    assert not keyring.locked


def test_a_credential_that_does_not_fit_ends_it_at_once(real, typed, credential):
    credential("other words that nobody guesses")
    typed(PASSPHRASE)
    with pytest.raises(CommandError, match="credential does not fit"):
        opening.open_home()
    assert keyring.locked


@pytest.mark.parametrize("mode", [0o440, 0o404, 0o420])
def test_a_credential_that_others_may_read_is_refused(real, typed, credential, mode):
    credential(PASSPHRASE, mode)
    with pytest.raises(CommandError, match="0400"):
        opening.open_home()
    assert keyring.locked


def test_without_a_file_in_the_folder_somebody_is_asked(real, typed, credential):
    typed(PASSPHRASE)
    opening.open_home()
    assert not keyring.locked


def test_what_must_be_typed_is_not_taken_from_a_file(real, typed, credential):
    credential(PASSPHRASE)
    with pytest.raises(CommandError, match="ended"):
        opening.open_home(typed=True)
    assert keyring.locked


@pytest.mark.parametrize("name", ["RELATIONS_PASSPHRASE", "PASSPHRASE"])
def test_the_environment_opens_nothing(real, typed, monkeypatch, name):
    monkeypatch.setenv(name, PASSPHRASE)
    with pytest.raises(CommandError, match="ended"):
        opening.open_home()
    assert keyring.locked


REFUSALS = {}


def look():
    """Stands for what is done at every opening; it finds the key held and nobody let in."""
    assert not keyring.locked
    assert not keyring.is_open
    if "raises" in REFUSALS:
        raise REFUSALS["raises"]


@pytest.fixture
def looked_at(settings):
    REFUSALS.clear()
    settings.RELATIONS_ON_OPENING = [f"{__name__}.look"]
    opening.make_home("real", REAL)
    keyring.lock()
    return REFUSALS


def test_nobody_is_let_in_before_all_is_done_that_is_done_at_an_opening(looked_at, typed):
    typed(PASSPHRASE)
    opening.open_home()
    assert keyring.is_open
    keyring.lock()
    assert not keyring.is_open


@pytest.mark.parametrize(
    ("raised", "said"),
    [
        (LedgerBroken(3, "changed"), "line 3 of the ledger of what was erased is not as it was"),
        (LedgerBroken(4, "missing"), "line 4 of the ledger of what was erased is missing"),
        (DatabaseError("no such table: x"), "the database does not answer as it should"),
    ],
)
def test_what_refuses_at_an_opening_locks_the_home_again_and_is_said(
    looked_at, typed, raised, said
):
    looked_at["raises"] = raised
    typed(PASSPHRASE)
    with pytest.raises(CommandError, match=f"The home stays locked: {said}"):
        opening.open_home()
    assert keyring.locked


def test_a_slip_in_what_is_done_at_an_opening_locks_the_home_too(looked_at, typed):
    looked_at["raises"] = ZeroDivisionError()
    typed(PASSPHRASE)
    with pytest.raises(ZeroDivisionError):
        opening.open_home()
    assert keyring.locked


def test_a_home_rekeyed_by_half_is_not_looked_into(looked_at, typed):
    keyring.unlock(PASSPHRASE)
    keyring.begin_rekey({"passphrase": "another nobody guesses", "recovery": "1" * 28}, 0)
    keyring.lock()
    looked_at["raises"] = ZeroDivisionError()
    typed("another nobody guesses")
    opening.open_home(halfway_too=True)
    assert not keyring.locked
    assert not keyring.is_open


def test_word_of_a_command_line_that_is_no_text_is_refused():
    assert opening.word("Loïc 🙂") == "Loïc 🙂"
    with pytest.raises(argparse.ArgumentTypeError, match="no text in UTF-8"):
        opening.word("a\udcff")


@pytest.mark.parametrize("said", ["", "x" * 5000, "a\0b"])
def test_file_that_no_disk_can_hold_is_refused(said):
    with pytest.raises(argparse.ArgumentTypeError):
        opening.place(said)


def test_file_that_may_be_or_come_is_a_path(tmp_path):
    assert opening.place(str(tmp_path / "not" / "yet")) == tmp_path / "not" / "yet"
