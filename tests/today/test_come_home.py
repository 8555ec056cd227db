"""The command that brings a set home says what came, and refuses in words."""

import io
import json
import sys
from datetime import date
from pathlib import Path
from uuid import UUID

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from relations.privacy.home import Home, Travelling
from relations.privacy.keys import WrongSecret
from relations.privacy.sets import NoSet
from relations.today import coming_home, outbox
from relations.today.management.commands import come_home

IN_A_SET = Home(Path("/nowhere"), False, Travelling("T7", date(2999, 12, 13), UUID(int=7)))


@pytest.fixture(autouse=True)
def opened(monkeypatch):
    monkeypatch.setattr(come_home, "open_home", lambda: None)
    monkeypatch.setattr(come_home, "take_home", lambda: None)


def come(*said):
    told = io.StringIO()
    call_command("come_home", *said, stdout=told)
    return told.getvalue()


@pytest.mark.parametrize("was_ended", [True, False])
def test_it_says_what_came_and_what_a_disk_may_keep(monkeypatch, tmp_path, was_ended):
    found = []

    def bring(root):
        found.append(root)
        return coming_home.Came(3, 2, 1, was_ended=was_ended)

    monkeypatch.setattr(coming_home, "bring", bring)
    said = come(str(tmp_path))
    assert found == [tmp_path]
    assert "Entries in the set: 3; new here: 2; waiting for somebody to look: 1." in said
    assert "may keep old blocks" in said
    assert ("An alarm was raised" in said) is was_ended


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (NoSet("There is no travelling set in here."), "Nothing came home. There is no travelling"),
        (outbox.NotNow(), "The clock of this computer is behind"),
    ],
)
def test_it_refuses_in_words(monkeypatch, tmp_path, error, said):
    def bring(root):
        raise error

    monkeypatch.setattr(coming_home, "bring", bring)
    with pytest.raises(CommandError, match=said):
        come(str(tmp_path))


def test_folder_is_asked_for():
    with pytest.raises(CommandError, match="in which folder"):
        come()


def test_no_set_brings_another_home(monkeypatch, tmp_path):
    monkeypatch.setattr(come_home, "home", lambda: IN_A_SET)
    with pytest.raises(CommandError, match="a travelling set itself"):
        come(str(tmp_path))


def test_inside_it_tells_what_was_written_or_that_the_secret_is_wrong(monkeypatch):
    def written(secret):
        if secret != "what home knows":
            raise WrongSecret(secret)
        return {"entries": [], "alarms": 0}

    monkeypatch.setattr(coming_home, "written", written)
    monkeypatch.setattr(sys, "stdin", io.StringIO('{"secret": "what home knows"}'))
    assert json.loads(come("--inside")) == {"entries": [], "alarms": 0}
    monkeypatch.setattr(sys, "stdin", io.StringIO('{"secret": "another"}'))
    with pytest.raises(CommandError, match="cannot open the set"):
        come("--inside")
