"""The command that makes a set asks for everything first, and refuses in words."""

import io
import sys
from datetime import date
from pathlib import Path
from uuid import UUID

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from relations.meetings.models import TravellingSet, Trip
from relations.privacy import sets
from relations.privacy.home import Home, Travelling
from relations.privacy.sets import NoSet
from relations.trips import travelling
from relations.trips.management.commands import travel
from tests import cast
from tests.rows import make
from tests.trips import desk

pytestmark = pytest.mark.django_db
PASSPHRASE, PASSWORD = "four boats and no harbour", "a lamp, a wall, a stair"
TYPED = (PASSPHRASE, PASSPHRASE, PASSWORD, PASSWORD)
IN_A_SET = Home(Path("/nowhere"), False, Travelling("T7", date(2999, 12, 13), UUID(int=7)))


@pytest.fixture(autouse=True)
def trip(monkeypatch):
    monkeypatch.setattr(travel, "open_home", lambda: None)
    monkeypatch.setattr(travel.timezone, "now", lambda: cast.moment(desk.FIRST))
    cast.assistant()
    return desk.trip()


@pytest.fixture
def told(monkeypatch):
    said = []
    monkeypatch.setattr(sets, "inside", lambda root, command, what: said.append((root, what)))
    return said


def run(monkeypatch, *said, typed=TYPED):
    monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{line}\n" for line in typed)))
    answered = io.StringIO()
    call_command("travel", *said, stdout=answered)
    return answered.getvalue()


def test_it_makes_the_set_and_says_until_when(monkeypatch, tmp_path, told):
    said = run(monkeypatch, "T7", str(tmp_path / "set"))
    assert "Its last day is 2026-12-13" in said
    assert "Off line nobody can wipe it from afar." in said
    assert PASSPHRASE not in said
    ((root, what),) = told
    assert root == tmp_path / "set"
    assert (what["passphrase"], what["password"]) == (PASSPHRASE, PASSWORD)
    assert TravellingSet.objects.get().made_for == cast.assistant()


def test_second_set_is_refused_until_the_first_is_given_up(monkeypatch, tmp_path, told):
    run(monkeypatch, "T7", str(tmp_path / "set"))
    with pytest.raises(CommandError, match="out already"):
        run(monkeypatch, "T7", str(tmp_path / "other"))
    assert "Sets given up: 1." in run(monkeypatch, "T7", "--give-up")
    assert run(monkeypatch, "T7", str(tmp_path / "other"))


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (("short", *TYPED), "needs 15 characters"),
        ((PASSPHRASE, PASSPHRASE + "s"), "not the same"),
        ((PASSPHRASE, PASSPHRASE, "short"), "too short|15"),
        ((PASSPHRASE, PASSPHRASE, PASSWORD, PASSWORD + "s"), "not the same"),
    ],
)
def test_weak_and_differing_words_make_nothing(monkeypatch, tmp_path, told, typed, said):
    with pytest.raises(CommandError, match=said):
        run(monkeypatch, "T7", str(tmp_path / "set"), typed=typed)
    assert not TravellingSet.objects.exists()
    assert not told


def test_password_of_the_register_is_not_carried(monkeypatch, tmp_path, told):
    user = cast.assistant()
    user.set_password(PASSWORD)
    user.save()
    with pytest.raises(CommandError, match="password of the register"):
        run(monkeypatch, "T7", str(tmp_path / "set"))
    assert not told


@pytest.mark.parametrize(
    ("asked", "said"),
    [(("T9", "set"), "no such trip"), (("T7",), "which empty folder"), (("T7", "."), "not empty")],
)
def test_what_is_not_there_is_refused(monkeypatch, asked, said):
    with pytest.raises(CommandError, match=said):
        run(monkeypatch, *asked)


def test_one_of_several_assistants_is_named(monkeypatch, tmp_path, told):
    other = cast.second_assistant()
    with pytest.raises(CommandError, match="--user"):
        run(monkeypatch, "T7", str(tmp_path / "set"))
    run(monkeypatch, "T7", str(tmp_path / "set"), "--user", other.username)
    assert TravellingSet.objects.get().made_for == other


def test_trip_that_is_over_has_no_set(monkeypatch, tmp_path, told):
    make(Trip, code="T0", first_day=cast.days(-9), last_day=cast.days(-1))
    with pytest.raises(CommandError, match="is over"):
        run(monkeypatch, "T0", str(tmp_path / "set"))


def test_set_makes_no_set(monkeypatch, tmp_path):
    monkeypatch.setattr(travel, "home", lambda: IN_A_SET)
    with pytest.raises(CommandError, match="itself"):
        run(monkeypatch, "T7", str(tmp_path / "set"))


def test_what_kept_it_from_being_made_is_said(monkeypatch, tmp_path):
    def fail(*_args):
        raise NoSet("the disk is full")

    monkeypatch.setattr(sets, "inside", fail)
    with pytest.raises(CommandError, match="not made: the disk is full"):
        run(monkeypatch, "T7", str(tmp_path / "set"))


def test_inside_it_fills_an_empty_folder_and_no_other(monkeypatch):
    made = []

    def make_set(statement, passphrase, secret, fill):
        if made:
            raise FileExistsError
        made.append((statement, passphrase, secret))
        fill()

    monkeypatch.setattr(sets, "make", make_set)
    monkeypatch.setattr(travelling, "fill", made.append)
    told = '{"statement": {"trip": "T7"}, "passphrase": "a", "secret": "b"}'
    assert run(monkeypatch, "--inside", typed=(told,)).strip() == "{}"
    assert made[0] == ({"trip": "T7"}, "a", "b")
    assert made[1]["secret"] == "b"
    with pytest.raises(CommandError, match="not empty"):
        run(monkeypatch, "--inside", typed=(told,))
