"""The command that lets somebody in whose telephone and paper codes are both gone."""

import io
import re
import sys

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.test import Client

from relations.privacy import devices, slots
from relations.privacy.crypt import Cost
from relations.privacy.home import home
from relations.privacy.keys import keyring
from relations.privacy.models import AccessEntry, Role, User
from tests.at_the_door import come_in

MASTER = bytes(range(32))
PASSPHRASE = "six words that nobody guesses"
pytestmark = [pytest.mark.unlocked, pytest.mark.django_db]


@pytest.fixture(autouse=True)
def locked_home(tmp_path, settings, monkeypatch):
    """A real home, locked, with the users of this test behind the lock."""
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    settings.RELATIONS_HOME = tmp_path
    keys = slots.new_key_file("real", {"passphrase": PASSPHRASE, "recovery": "0000"}, MASTER)
    slots.write_key_file(home().keys, keys)
    keyring.lock()
    keyring.hold(MASTER)
    yield
    keyring.lock()
    keyring.hold(MASTER)


@pytest.fixture
def ines():
    user = User.objects.create_user(
        "ines", "p" * 15, role=Role.ARTIST, called="Ines", asks_code=True
    )
    devices.new_paper(user)
    return user


@pytest.fixture
def lost(monkeypatch):
    def lost(name, passphrase=PASSPHRASE):
        keyring.lock()
        monkeypatch.setattr(sys, "stdin", io.StringIO(f"{passphrase}\n" * 3))
        said = io.StringIO()
        call_command("lost_codes", name, stdout=said)
        return said.getvalue()

    return lost


def test_one_code_is_given_sessions_end_and_it_is_noted(lost, ines):
    client = Client()
    come_in(client, ines)
    code = re.search(r"^ {4}([0-9A-Z ]{14})$", lost("ines"), re.MULTILINE).group(1)
    assert client.get("/own/").headers["Location"].startswith("/in/")
    entry = AccessEntry.objects.last()
    assert (entry.verb, entry.by, entry.key) == ("codes_lost", None, ines.pk)
    assert ines.paper_codes.count() == 1
    assert devices.accepts(ines, code)


def test_artist_and_keeper_are_told(lost, ines):
    keeper = User.objects.create_user("aude", None, role=Role.KEEPER, called="Aude")
    lost("ines")
    for user in (ines, keeper):
        client = Client()
        user.must_set_up_codes = False
        user.save()
        come_in(client, user)
        assert "Done at the machine itself." in client.get("/").content.decode()


@pytest.mark.parametrize(
    ("name", "told"), [("nobody", "Nobody signs in"), ("loic", "without codes")]
)
def test_who_cannot_have_lost_them_is_said(lost, ines, name, told):
    User.objects.create_user("loic", None, role=Role.ASSISTANT, called="Loïc")
    with pytest.raises(CommandError, match=told):
        lost(name)
    assert not AccessEntry.objects.exists()


def test_who_was_let_go_is_nobody(lost, ines):
    User.objects.update(is_active=False)
    with pytest.raises(CommandError, match="Nobody"):
        lost("ines")


def test_passphrase_opens_the_home_first(lost, ines):
    with pytest.raises(CommandError, match="passphrase was wrong"):
        lost("ines", "a wrong one, typed thrice")
    keyring.hold(MASTER)
    assert ines.paper_codes.count() == 10
