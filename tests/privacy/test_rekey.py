"""The command that puts everything under a new key: alone with the home, and asked for in full."""

import fcntl
import io
import os
import sys

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from relations.privacy import log, opening, rekeying, slots
from relations.privacy.crypt import Cost
from relations.privacy.home import home
from relations.privacy.keys import keyring
from relations.privacy.models import AccessEntry, Role, User

MASTER = bytes(range(32))
OLD, NEW, KEEPERS = "six words that nobody guesses", "a lamp on the third stone", "a boat at night"
NEW_CODE = "7777-1111-2222-3333-4444-5555-6666"
ANSWERS = [OLD, NEW, NEW, KEEPERS, KEEPERS, NEW_CODE]

pytestmark = [pytest.mark.unlocked, pytest.mark.django_db]


@pytest.fixture(autouse=True)
def real(tmp_path, settings, monkeypatch):
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    monkeypatch.setattr(opening, "new_recovery_code", lambda: NEW_CODE)
    settings.RELATIONS_HOME = tmp_path / "home"
    mask = os.umask(0o022)
    opening.make_home("real", {"passphrase": OLD, "recovery": "0" * 28})
    User.objects.create_user("mara", None, role=Role.ARTIST, called="Mara")
    keyring.lock()
    yield
    os.umask(mask)
    os.close(opening._held.pop(home().root, os.open(os.devnull, os.O_RDONLY)))
    keyring.hold(MASTER)


@pytest.fixture
def rekey(monkeypatch):
    def rekey(*answers):
        monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{line}\n" for line in answers)))
        said = io.StringIO()
        call_command("rekey", stdout=said)
        return said.getvalue()

    return rekey


def names():
    return [slot["name"] for slot in slots.read_key_file(home().keys)["slots"]]


def test_everything_is_under_the_new_key_and_three_ways_open_it(rekey):
    said = rekey(*ANSWERS)
    assert said.count(NEW_CODE) == 1
    assert names() == ["passphrase", "keeper", "recovery"]
    for secret, slot in ((NEW, "passphrase"), (KEEPERS, "keeper"), (NEW_CODE, "recovery")):
        keyring.lock()
        assert keyring.unlock(secret) == slot
        assert User.objects.get().called == "Mara"
    assert log.broken_at() is None


def test_without_the_keeper_there_the_slot_is_gone(rekey):
    rekey(OLD, NEW, NEW, "", NEW_CODE)
    assert names() == ["passphrase", "recovery"]


@pytest.mark.parametrize(
    ("answers", "told"),
    [
        ([OLD, "fourteen signs"], "15 characters"),
        ([OLD, NEW, NEW + "s"], "not the same"),
        ([OLD, NEW, NEW, NEW, NEW], "another passphrase"),
        ([OLD, NEW, NEW, "", "0000"], "not the code"),
        ([OLD], "ended"),
    ],
)
def test_a_wrong_answer_changes_nothing(rekey, answers, told):
    before = home().keys.read_text()
    with pytest.raises(CommandError, match=told):
        rekey(*answers)
    assert home().keys.read_text() == before


def test_a_home_with_a_fault_is_not_rekeyed(rekey):
    keyring.unlock(OLD)
    log.note(None, "read", "people.phone", None)
    keyring.lock()
    AccessEntry.objects.update(verb="wrote")
    with pytest.raises(CommandError, match="access log is broken at line 1"):
        rekey(*ANSWERS)


def test_what_was_begun_is_finished_first_and_by_this_command_only(rekey, monkeypatch):
    with monkeypatch.context() as patch:
        patch.setattr(rekeying, "finish", lambda: None)
        rekey(*ANSWERS)
    keyring.lock()
    monkeypatch.setattr(sys, "stdin", io.StringIO(f"{NEW}\n"))
    with pytest.raises(CommandError, match="begun and not finished"):
        opening.open_home()
    assert "goes on with the new" in rekey(NEW)
    assert not keyring.is_halfway
    assert User.objects.get().called == "Mara"


def test_while_another_has_the_home_open_it_is_refused(rekey):
    with (home().root / "home.lock").open("w") as other:
        fcntl.flock(other, fcntl.LOCK_SH)
        with pytest.raises(CommandError, match="End it first"):
            rekey(*ANSWERS)
    assert rekey(*ANSWERS)


def test_while_it_is_rekeyed_nothing_else_opens_it(monkeypatch):
    with (home().root / "home.lock").open("w") as other:
        fcntl.flock(other, fcntl.LOCK_EX)
        with pytest.raises(CommandError, match="being rekeyed"):
            opening.open_home()
    assert keyring.locked


def test_a_key_file_that_lost_what_it_carries_is_said(rekey, monkeypatch):
    rekey(*ANSWERS)
    keyring.lock()
    kept = slots.read_key_file(home().keys)
    del kept["carried"]
    slots.write_key_file(home().keys, kept)
    monkeypatch.setattr(sys, "stdin", io.StringIO(f"{NEW}\n"))
    with pytest.raises(CommandError, match="lacks what earlier keys left"):
        opening.open_home()
    assert keyring.locked


def test_a_rehearsal_is_not_rekeyed(rekey, settings, tmp_path):
    settings.RELATIONS_HOME = tmp_path / "rehearsal"
    opening.make_home("rehearsal", {"open": "in it"})
    keyring.lock()
    with pytest.raises(CommandError, match="rehearsal"):
        rekey()


def test_where_there_is_no_home_there_is_nothing_to_take(settings, tmp_path):
    settings.RELATIONS_HOME = tmp_path / "nowhere"
    with pytest.raises(CommandError, match="no home"):
        opening.take_home()
