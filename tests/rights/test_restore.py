"""The command that restores: it refuses what it must, reports what it did, and can be killed."""

import os
import random
import signal
import subprocess
import sys
import time

import pytest
from django.core.management.base import CommandError
from django.db import connection

from relations.people.models import Participant
from relations.privacy import rekeying
from relations.privacy.files import scans
from relations.privacy.home import home
from relations.privacy.keys import keyring
from relations.rights import backing_up, restoring
from relations.rights.management.commands import restore
from tests.rights.homes import CODE, PASSPHRASE

pytestmark = [pytest.mark.unlocked, pytest.mark.django_db]


@pytest.fixture
def made(a_home, shelf_folder):
    return backing_up.make(shelf_folder)


def test_it_reports_counts_the_end_of_the_log_and_how_old_it_is(made, elsewhere, say):
    with elsewhere():
        said = say("restore", str(made.path), typed=["wrong one", CODE])
        people = made.row.counts["people.participant"]
        assert f"people{people:>27} of {people}\n" in said
        assert f"files{6:>28} of 6\n" in said
        assert f"ends at line {made.row.log_seq}, head {made.row.log_head}." in said
        assert "everything in it opens" in said
        assert "0 days ago" in said
        assert "newer backup" not in said
        assert set(restore.THINGS) <= set(made.row.counts)
        assert Participant.objects.get(code="07").call_name == "Zéphirine"
        # A second time it is there already.
        with pytest.raises(CommandError, match=r"Nothing was restored\. There is a home"):
            say("restore", str(made.path), typed=[CODE])


def test_an_older_one_is_restored_and_the_newer_one_beside_it_named(made, elsewhere, say):
    older = made.path.rename(made.path.with_name("2020-01-01-1200-1-ab12cd34.backup"))
    newer = older.with_name("2099-01-01-1200-9-ab12cd34.backup")
    newer.write_bytes(b"x")
    with elsewhere():
        said = say("restore", str(older), typed=[PASSPHRASE])
        assert f"Beside it lies a newer backup: {newer.name}" in said


def test_what_did_not_open_when_it_was_made_is_named(a_home, shelf_folder, elsewhere, say):
    name = scans().names()[0]
    scans().path_of(name).write_bytes(b"x" * 500)
    made = backing_up.make(shelf_folder)
    with elsewhere():
        said = say("restore", str(made.path), typed=[PASSPHRASE])
        assert f"This was so in the backup already: The sealed file {name} is damaged" in said
        assert "everything in it opens" not in said


@pytest.mark.parametrize(
    ("damage", "told"),
    [
        (lambda data: data[:50_000] + bytes([data[50_000] ^ 1]) + data[50_001:], "changed near"),
        (lambda data: data[:-9_000], "Its end is missing"),
    ],
)
def test_nothing_is_restored_from_a_damaged_file(made, elsewhere, say, damage, told):
    made.path.write_bytes(damage(made.path.read_bytes()))
    with elsewhere():
        with pytest.raises(CommandError, match=rf"Nothing was restored\. .*damaged\. .*{told}"):
            say("restore", str(made.path), typed=[PASSPHRASE])
        assert [path.name for path in home().root.iterdir()] == ["home.lock"]
        keyring.lock()


def test_it_says_what_it_lacks(made, elsewhere, say, tmp_path):
    away = made.path.with_name("keys.json").rename(tmp_path / "keys.json")
    other = tmp_path / "other.backup"
    other.write_bytes(b"RELF but too short")
    with elsewhere():
        for words, told in (
            ([made.path.with_name("nothing.backup")], "There is no file .*nothing.backup"),
            ([made.path], "There is no file .*keys.json"),
            ([made.path, "--keys", away, "--ledger", tmp_path / "l"], "There is no file .*/l"),
            ([other, "--keys", away], "not a file that this site sealed"),
        ):
            with pytest.raises(CommandError, match=told):
                say("restore", *map(str, words), typed=[PASSPHRASE])
            keyring.lock()
        with pytest.raises(CommandError, match="stays locked"):
            say("restore", str(made.path), "--keys", str(away), typed=["x", "y", "z"])
        assert not home().keys.exists()


def test_a_half_finished_one_is_recognised_and_run_again(made, elsewhere, say, monkeypatch):
    with elsewhere():
        with monkeypatch.context() as patch:

            def stop(*args):
                raise restoring.archive.Damaged("The disk gave back something else.")

            patch.setattr(restoring, "_put_file", stop)
            with pytest.raises(CommandError, match="not finished"):
                say("restore", str(made.path), typed=[PASSPHRASE])
        keyring.lock()
        said = say("restore", str(made.path), typed=[PASSPHRASE])
        assert "begun here and not finished. It begins anew." in said
        assert rekeying.faults() == []


RESTORES = """
import sys
import django
django.setup()
from django.core.management import call_command
call_command("restore", sys.argv[1])
"""


@pytest.mark.long
def test_killed_again_and_again_it_is_finished_all_the_same(made, elsewhere, say):
    chance = random.Random(41)
    with elsewhere():
        usual = connection.settings_dict
        address = "" if connection.vendor == "sqlite" else (
            f"postgresql://{usual['USER']}:{usual['PASSWORD']}@{usual['HOST']}:{usual['PORT']}"
            f"/{usual['NAME']}"
        )  # fmt: skip
        told = {"RELATIONS_HOME": str(home().root), "RELATIONS_DATABASE_URL": address}
        connection.close()
        for _ in range(8):
            process = subprocess.Popen(
                [sys.executable, "-c", RESTORES, str(made.path)],
                env={**os.environ, **told, "RELATIONS_TODAY": ""},
                stdin=subprocess.PIPE,
                stdout=subprocess.DEVNULL,
                text=True,
            )
            process.stdin.write(f"{PASSPHRASE}\n")
            process.stdin.flush()
            time.sleep(chance.uniform(1.5, 9))
            process.send_signal(signal.SIGKILL)
            process.communicate()
            if home().keys.exists():
                break
        if not home().keys.exists():
            say("restore", str(made.path), typed=[PASSPHRASE])
        else:
            keyring.unlock(PASSPHRASE)
        assert rekeying.faults() == []
        assert Participant.objects.get(code="07").call_name == "Zéphirine"
        assert len(scans().names()) == 3
