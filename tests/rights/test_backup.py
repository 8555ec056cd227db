"""The command that backs up: what it says, while others use the home, and killed at any moment."""

import fcntl
import os
import random
import signal
import subprocess
import sys
import time
from datetime import timedelta

import pytest
from django.core.management.base import CommandError
from django.db import connection
from django.utils import timezone

from relations.privacy.files import scans
from relations.privacy.home import home
from relations.privacy.keys import keyring
from relations.rights import archive, backing_up, restoring, shelf
from relations.rights.models import Backup
from tests.rights.homes import PASSPHRASE

pytestmark = [pytest.mark.unlocked, pytest.mark.django_db]


def test_it_says_what_it_wrote_and_that_it_was_read_back(a_home, shelf_folder, say):
    keyring.lock()
    said = say("backup", str(shelf_folder), typed=[PASSPHRASE])
    (path,) = shelf.backups(shelf_folder)
    row = Backup.objects.get(log_head__startswith=path.stem[-8:])
    assert path.name in said
    assert f"{sum(row.counts.values())} rows, 6 files. Read back whole." in said
    assert "older than" not in said


def test_while_a_server_has_the_home_open_it_is_made(a_home, shelf_folder, say):
    keyring.lock()
    with (home().root / "home.lock").open("w") as other:
        fcntl.flock(other, fcntl.LOCK_SH)
        assert "Read back whole" in say("backup", str(shelf_folder), typed=[PASSPHRASE])


def test_a_locked_home_is_not_backed_up(a_home, shelf_folder, say):
    keyring.lock()
    with pytest.raises(CommandError, match="stays locked"):
        say("backup", str(shelf_folder), typed=["wrong", "wrong", "wrong"])
    assert list(shelf_folder.iterdir()) == []


def test_while_it_is_rekeyed_it_is_not_backed_up(a_home, shelf_folder, say):
    keyring.lock()
    with (home().root / "home.lock").open("w") as other:
        fcntl.flock(other, fcntl.LOCK_EX)
        with pytest.raises(CommandError, match="being rekeyed"):
            say("backup", str(shelf_folder), typed=[PASSPHRASE])


def test_a_folder_that_will_not_do_is_said(a_home, tmp_path, say):
    with pytest.raises(CommandError, match=r"^No backup was made\. There is no folder"):
        say("backup", str(tmp_path / "nowhere"))


def test_what_is_old_is_told_before_it_goes_and_after(a_home, shelf_folder, say, monkeypatch):
    say("backup", str(shelf_folder))
    (first,) = shelf.backups(shelf_folder)
    later = timezone.now() + timedelta(days=125)
    monkeypatch.setattr(timezone, "now", lambda: later)
    said = say("backup", str(shelf_folder))
    before, _, after = said.partition("Writing, then reading back")
    assert f"Older than 90 days, to go once a new backup stands: {first.name}" in before
    assert f"Gone, older than 90 days: {first.name}" in after
    assert f"The keys of {first.name[:7]} were destroyed" in after


def test_a_fault_of_the_home_is_told_though_the_backup_stands(a_home, shelf_folder, say):
    scans().path_of(scans().names()[0]).write_bytes(b"x")
    with pytest.raises(CommandError, match="The backup stands, with 1 faults"):
        say("backup", str(shelf_folder))
    assert len(shelf.backups(shelf_folder)) == 1


def test_a_disk_that_forgets_is_told(a_home, shelf_folder, say, monkeypatch):
    monkeypatch.setattr(backing_up, "_forget_pages", lambda part: part.write_bytes(b"x" * 99))
    with pytest.raises(CommandError, match="Take another disk"):
        say("backup", str(shelf_folder))
    assert list(shelf_folder.iterdir()) == []


def test_an_older_register_is_told(a_home, shelf_folder, say, monkeypatch):
    newer = shelf_folder / shelf.name_of(timezone.now(), 999, "ab" * 32)
    newer.write_bytes(b"x")
    assert f"{newer.name} knows more of the access log than this register" in say(
        "backup", str(shelf_folder)
    )


WORKS = """
import sys
from pathlib import Path
import django
django.setup()
from relations.privacy import slots
from relations.privacy.crypt import Cost
from relations.privacy.keys import keyring
keyring.unlock(sys.argv[1])
from relations.rights import backing_up
print("opened", flush=True)
while True:
    backing_up.make(Path(sys.argv[2]))
"""


def killed(a_home, folder, kills, longest):
    """Back up again and again in processes that are killed; how many were struck at work."""
    if connection.vendor == "sqlite":
        connection.close()
    usual = connection.settings_dict
    address = "" if connection.vendor == "sqlite" else (
        f"postgresql://{usual['USER']}:{usual['PASSWORD']}@{usual['HOST']}:{usual['PORT']}"
        f"/{usual['NAME']}"
    )  # fmt: skip
    told = {"RELATIONS_HOME": str(a_home.root), "RELATIONS_DATABASE_URL": address}
    chance, struck = random.Random(37), 0
    for _ in range(kills):
        process = subprocess.Popen(
            [sys.executable, "-c", WORKS, PASSPHRASE, str(folder)],
            env={**os.environ, **told, "RELATIONS_TODAY": ""},
            stdout=subprocess.PIPE,
            text=True,
        )
        assert process.stdout.readline() == "opened\n"
        time.sleep(chance.uniform(0, longest))
        struck += process.poll() is None
        process.send_signal(signal.SIGKILL)
        process.communicate()
        for path in shelf.backups(folder):
            key = restoring.key_of(path, folder / "keys.json")
            assert archive.verify(path, key)[1] == 6
    return struck


def test_killed_at_any_moment_it_leaves_none_that_does_not_verify(a_home, shelf_folder):
    assert killed(a_home, shelf_folder, 4, 0.6) == 4
    made = backing_up.make(shelf_folder)
    assert made.ahead is None
    left = {path.name for path in shelf_folder.iterdir()} - {"keys.json"}
    assert left == {path.name for path in shelf.backups(shelf_folder)}


@pytest.mark.long
def test_killed_fifty_times_it_leaves_none_that_does_not_verify(a_home, shelf_folder):
    assert killed(a_home, shelf_folder, 50, 1.2) == 50
    made = backing_up.make(shelf_folder)
    assert made.faults == []
    left = {path.name for path in shelf_folder.iterdir()} - {"keys.json"}
    assert left == {path.name for path in shelf.backups(shelf_folder)}
