"""A new passphrase for artist or keeper, a new recovery code; typed by somebody, never found."""

import io
import os
import sys

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from relations.privacy import opening, slots
from relations.privacy.crypt import Cost
from relations.privacy.home import home
from relations.privacy.keys import WrongSecret, keyring
from relations.privacy.models import AccessEntry

MASTER = bytes(range(32))
PASSPHRASE, CODE = "six words that nobody guesses", "0000-1111-2222-3333-4444-5555-6666"
NEW, NEW_CODE = "a key under the third stone", "7777-1111-2222-3333-4444-5555-6666"

pytestmark = [pytest.mark.unlocked, pytest.mark.django_db]


@pytest.fixture(autouse=True)
def real(tmp_path, settings, monkeypatch):
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    monkeypatch.setattr(opening, "new_recovery_code", lambda: NEW_CODE)
    settings.RELATIONS_HOME = tmp_path / "home"
    opening.make_home("real", {"passphrase": PASSPHRASE, "recovery": CODE})
    keyring.lock()
    mask = os.umask(0o022)
    yield
    os.umask(mask)
    keyring.hold(MASTER)


@pytest.fixture
def change(monkeypatch):
    def change(*answers, slot="passphrase"):
        monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{line}\n" for line in answers)))
        said = io.StringIO()
        call_command("change_passphrase", "--slot", slot, stdout=said)
        keyring.lock()
        return said.getvalue()

    return change


@pytest.mark.parametrize("slot", ["passphrase", "keeper"])
def test_a_new_passphrase_opens_the_home_and_the_log_says_so(change, slot):
    said = change(PASSPHRASE, NEW, NEW, slot=slot)
    assert "rekey" in said
    assert NEW not in said
    assert keyring.unlock(NEW) == slot
    (line,) = AccessEntry.objects.all()
    assert (line.verb, line.kind) == ("rewrapped", f"privacy.slot.{slot}")


def test_a_forgotten_passphrase_is_changed_with_the_recovery_code(change):
    change(CODE, NEW, NEW)
    assert keyring.unlock(NEW) == "passphrase"
    keyring.lock()
    with pytest.raises(WrongSecret):
        keyring.unlock(PASSPHRASE)


def test_a_new_recovery_code_counts_once_it_was_typed_from_paper(change):
    said = change(PASSPHRASE, NEW_CODE, slot="recovery")
    assert said.count(NEW_CODE) == 1
    assert keyring.unlock(NEW_CODE) == "recovery"


@pytest.mark.parametrize(
    ("answers", "slot", "told"),
    [
        ([PASSPHRASE, "fourteen signs"], "passphrase", "15 characters"),
        ([PASSPHRASE, NEW, NEW + "s"], "passphrase", "not the same"),
        ([PASSPHRASE, PASSPHRASE, PASSPHRASE], "keeper", "in use"),
        ([PASSPHRASE, CODE], "recovery", "not the code"),
        ([PASSPHRASE], "passphrase", "ended"),
    ],
)
def test_a_wrong_answer_changes_nothing(change, answers, slot, told):
    before = home().keys.read_text()
    with pytest.raises(CommandError, match=told):
        change(*answers, slot=slot)
    assert home().keys.read_text() == before
    assert not AccessEntry.objects.exists()


def test_a_credential_file_does_not_stand_for_somebody(change, tmp_path, monkeypatch):
    (tmp_path / "passphrase").write_text(PASSPHRASE)
    (tmp_path / "passphrase").chmod(0o400)
    monkeypatch.setenv("CREDENTIALS_DIRECTORY", str(tmp_path))
    with pytest.raises(CommandError, match="ended"):
        change(NEW, NEW)


def test_a_rehearsal_has_no_passphrase(change, settings, tmp_path):
    settings.RELATIONS_HOME = tmp_path / "rehearsal"
    opening.make_home("rehearsal", {"open": "in it"})
    keyring.lock()
    with pytest.raises(CommandError, match="rehearsal"):
        change(NEW, NEW)
