"""Which folder a home is, and which day it is there."""

import os
from datetime import UTC, date, datetime, timedelta

import pytest
from django.utils import timezone

from relations.privacy import slots
from relations.privacy.home import home, now, today


@pytest.fixture
def root(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path
    settings.RELATIONS_TODAY = None
    return tmp_path


@pytest.fixture
def rehearsal(root):
    kept = slots.new_key_file("rehearsal", {"open": "in it"}, bytes(32))
    slots.write_key_file(root / "keys.json", kept)
    return root


def test_a_home_keeps_everything_in_its_own_folder(root):
    here = home()
    assert here.root == root
    assert here.keys == root / "keys.json"
    assert here.database == root / "register.db"
    assert {here.scans.parent, here.pictures.parent} == {root}


def test_without_a_key_file_nothing_is_a_rehearsal(root):
    assert not home().is_rehearsal


def test_the_key_file_says_whether_a_home_is_a_rehearsal(rehearsal):
    assert home().is_rehearsal
    kept = slots.read_key_file(rehearsal / "keys.json")
    slots.write_key_file(rehearsal / "keys.json", {**kept, "kind": "real"})
    os.utime(rehearsal / "keys.json", ns=(1, 1))
    assert not home().is_rehearsal


def test_a_rehearsal_stands_still_on_the_morning_of_23_november_2026(rehearsal):
    assert today() == date(2026, 11, 23)
    assert now() == datetime(2026, 11, 23, 8, 0, tzinfo=UTC)


def test_a_real_home_lives_today(root):
    assert abs(now() - timezone.now()) < timedelta(minutes=1)
    assert today() == timezone.localdate()


def test_a_day_that_was_set_stands_still_everywhere(rehearsal, settings):
    settings.RELATIONS_TODAY = date(2027, 3, 1)
    assert today() == date(2027, 3, 1)
    assert timezone.localtime(now()).date() == date(2027, 3, 1)
    assert timezone.localtime(now()).hour == 9
