"""What was acknowledged is on the disk, by the settings in use and by the order of writing."""

import io
import os
import sys

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.db import connection

from relations.privacy import durable, files
from relations.privacy.files import SealedStorage

ASKED = """
from django.db import connection
from relations.privacy import durable
connection.ensure_connection()
print(durable.forgets())
"""
# As another program might leave the connection, or a server be set.
FORGETFUL = """
from django.db import connection
from relations.privacy import durable
with connection.cursor() as cursor:
    for setting in sys.argv[1:]:
        cursor.execute(setting)
print(durable.forgets())
"""


@pytest.mark.django_db
def test_our_own_connection_waits_for_the_disk(apart):
    # The tests' server is set to forget, for speed; what we may say for our sessions, we do.
    server = ["fsync", "full_page_writes"] if apart.address else []
    assert apart.run(ASKED) == f"{server}\n"


@pytest.mark.django_db
def test_settings_that_forget_are_named(apart):
    if apart.address:
        said, named = ["SET synchronous_commit = off"], ["fsync", "full_page_writes"]
        named.append("synchronous_commit")
    else:
        said = ["PRAGMA synchronous = NORMAL", "PRAGMA journal_mode = DELETE"]
        named = ["synchronous", "journal_mode"]
    assert apart.run(FORGETFUL, *said) == f"{named}\n"


@pytest.mark.django_db
def test_flipped_bit_shows_here_whatever_the_database():
    assert durable.checks_pages()


@pytest.mark.django_db
def test_register_in_memory_is_not_asked():
    if connection.vendor == "sqlite":
        assert durable.forgets() == []
    else:
        assert "synchronous_commit" not in durable.forgets()


def test_file_is_on_the_disk_before_it_has_its_name_and_the_name_before_its_row(
    tmp_path, monkeypatch
):
    told = []
    fsync, publish, sync_folder = os.fsync, files.publish, files.sync_folder

    def say(what, act):
        def saying(*args):
            told.append(what)
            return act(*args)

        return saying

    monkeypatch.setattr(files.os, "fsync", say("bytes", fsync))
    monkeypatch.setattr(files, "publish", say("name", publish))
    monkeypatch.setattr(files, "sync_folder", say("folder", sync_folder))
    store = SealedStorage(tmp_path / "scans")
    store.save(b"signed")
    # The folder itself is new; `fsync` on a folder is what `sync_folder` calls.
    assert told == ["folder", "bytes", "bytes", "name", "folder", "bytes"]
    del told[:]
    store.save(b"signed")
    assert told == ["bytes", "name", "folder", "bytes"]


def test_a_database_that_forgets_is_not_served(tmp_path, settings, monkeypatch):
    from relations.privacy import opening, slots
    from relations.privacy.crypt import Cost
    from relations.privacy.keys import keyring
    from relations.privacy.management.commands import serve

    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    monkeypatch.setattr(serve, "serve", lambda *_: pytest.fail("it was served"))
    monkeypatch.setattr(serve, "watch_over", lambda locked: locked)
    monkeypatch.setattr(durable, "forgets", lambda: ["fsync"])
    monkeypatch.setattr(sys, "stdin", io.StringIO("six words that nobody guesses\n"))
    settings.RELATIONS_HOME = tmp_path / "home"
    settings.RELATIONS_ON_OPENING = []
    secrets = {"passphrase": "six words that nobody guesses", "recovery": "0" * 28}
    opening.make_home("real", secrets)
    keyring.lock()
    try:
        with pytest.raises(CommandError, match="fsync"):
            call_command("serve", stdout=io.StringIO())
    finally:
        keyring.hold(bytes(range(32)))
