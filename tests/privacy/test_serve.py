"""The command that serves a real home."""

import io
import re
import sys

import pytest
from django.core.management import call_command, load_command_class
from django.core.management.base import CommandError

from relations.privacy import durable, opening, slots
from relations.privacy.crypt import Cost
from relations.privacy.keys import keyring
from relations.privacy.management.commands import serve

PASSPHRASE = "six words that nobody guesses"
pytestmark = pytest.mark.unlocked


@pytest.fixture(autouse=True)
def served(tmp_path, settings, monkeypatch):
    """Calls of the server, which is not started; whether the home was locked then."""
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    settings.RELATIONS_HOME = tmp_path / "home"
    # What is done at an opening looks into the database, and these tests have none.
    settings.RELATIONS_ON_OPENING = []
    monkeypatch.setattr(durable, "forgets", list)
    calls = []
    monkeypatch.setattr(
        serve,
        "serve",
        lambda host, port, idle, count: calls.append((host, port, keyring.locked, idle, count)),
    )
    monkeypatch.setattr(serve, "watch_over", lambda locked: locked)
    keyring.lock()
    yield calls
    keyring.hold(bytes(range(32)))


@pytest.fixture
def real():
    opening.make_home("real", {"passphrase": PASSPHRASE, "recovery": "0" * 28})
    keyring.lock()


def test_the_passphrase_opens_the_home_before_it_is_served(served, real, monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.StringIO(f"{PASSPHRASE}\n"))
    said = io.StringIO()
    call_command("serve", port=8123, stdout=said)
    assert served == [("127.0.0.1", 8123, False, 30, 1)]
    assert "http://127.0.0.1:8123/" in said.getvalue()


def test_a_home_may_be_served_locked(served, real):
    call_command("serve", locked=True, stdout=io.StringIO())
    assert served == [("127.0.0.1", 8000, True, 30, 1)]


def test_a_rehearsal_is_not_served_as_a_real_home(served):
    opening.make_home("rehearsal", {"open": "in it"})
    with pytest.raises(CommandError, match="rehearsal"):
        call_command("serve")
    assert served == []


def test_where_there_is_no_home_nothing_is_served(served):
    with pytest.raises(CommandError, match="no home"):
        call_command("serve", locked=True)
    assert served == []


def test_a_home_that_locked_itself_is_served_locked(served, real, monkeypatch):
    monkeypatch.setattr(serve, "watch_over", lambda locked: True)
    monkeypatch.setattr(sys, "stdin", io.StringIO(f"{PASSPHRASE}\n"))
    call_command("serve", stdout=io.StringIO())
    assert served == [("127.0.0.1", 8000, True, 30, 1)]


@pytest.mark.parametrize(("count", "told"), [(2, "PostgreSQL"), (0, "from 1"), (33, "to 32")])
def test_workers_that_cannot_be_are_refused_before_anything_is_asked(
    served, real, monkeypatch, count, told
):
    monkeypatch.setattr(type(serve.connection), "vendor", "sqlite", raising=False)
    with pytest.raises(CommandError, match=told):
        call_command("serve", workers=count, stdout=io.StringIO())
    assert served == []


@pytest.mark.parametrize("command", ["serve", "change_passphrase", "rekey", "check_log", "begin"])
def test_no_command_takes_a_secret_as_an_argument(command):
    parser = load_command_class("relations.privacy", command).create_parser("manage.py", command)
    said = {option for action in parser._actions for option in action.option_strings}
    assert not {option for option in said if re.search("pass|secret|code|key", option)}
    with pytest.raises(CommandError):
        parser.parse_args([PASSPHRASE])
