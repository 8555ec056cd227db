"""Homes that backups are made of and restored into, on the database the tests run on."""

import io
import os
import shutil
import sys

import pytest
from django.core.management import call_command

from relations.privacy import opening, slots
from relations.privacy.keys import keyring
from tests.rights import homes
from tests.rights.homes import CHEAP, MASTER, Databases, Place, standing_at


@pytest.fixture(scope="session")
def filled_home(tmp_path_factory, django_db_setup, django_db_blocker):
    """A home with a row of every table and some files, made once; tests take copies of it."""
    databases = Databases()
    place = Place(tmp_path_factory.mktemp("filled") / "home", databases.new())
    mask = os.umask(0o022)
    with django_db_blocker.unblock(), pytest.MonkeyPatch.context() as patch:
        patch.setattr(slots, "COSTS", CHEAP)
        with standing_at(place, patch):
            homes.begin()
    os.umask(mask)
    yield place
    databases.drop_all()


@pytest.fixture
def databases(db):
    made = Databases()
    yield made
    made.drop_all()


@pytest.fixture
def cheap(monkeypatch):
    """Passphrases that cost nothing to try; the process as it was, afterwards."""
    monkeypatch.setattr(slots, "COSTS", CHEAP)
    mask = os.umask(0o022)
    yield
    os.umask(mask)
    keyring.hold(MASTER)


@pytest.fixture
def a_home(filled_home, databases, tmp_path, monkeypatch, cheap):
    """A copy of the filled home, open; the tests stand in it."""
    place = Place(tmp_path / "home", databases.new(filled_home.database))
    shutil.copytree(filled_home.root, place.root)
    with standing_at(place, monkeypatch):
        keyring.unlock(homes.PASSPHRASE)
        yield place


@pytest.fixture
def shelf_folder(tmp_path):
    """The folder that backups lie in."""
    folder = tmp_path / "disk"
    folder.mkdir()
    return folder


@pytest.fixture
def say(monkeypatch):
    """Run a command, with answers typed; what it said, errors too."""

    def say(*words, typed=()):
        monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{line}\n" for line in typed)))
        said = io.StringIO()
        call_command(*words, stdout=said, stderr=said)
        return said.getvalue()

    return say


@pytest.fixture
def elsewhere(databases, tmp_path, monkeypatch, cheap):
    """An empty place to restore into: `elsewhere()` gives one, to stand at by `with`."""
    made = []

    def elsewhere(*, on_server=True):
        made.append(1)
        database = databases.new() if on_server else ""
        place = Place(tmp_path / f"new-{len(made)}", database)
        keyring.lock()
        return standing_at(place, monkeypatch)

    yield elsewhere
    assert not [root for root in opening._held if root.is_relative_to(tmp_path)]
