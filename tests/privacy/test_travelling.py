"""A set holds until its last day; from the day after, nothing that is typed opens it."""

import json
from datetime import date, datetime, timedelta
from urllib.parse import urlencode
from uuid import UUID

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.test import Client
from django.utils import timezone

from relations.privacy import clock, slots, travelling
from relations.privacy.crypt import Cost, SealBroken
from relations.privacy.home import home
from relations.privacy.keys import WrongSecret, keyring

MASTER = bytes(range(32))
PASSPHRASE, SECRET = "four boats and no harbour", "what the register knows"
LAST = date(2026, 12, 13)
TYPED = urlencode({"passphrase": PASSPHRASE})
SAID = {"trip": "T7", "until": "2026-12-13", "key": "00000000-0000-4000-8000-00000000000a"}

pytestmark = pytest.mark.unlocked


def on(day, hour=12):
    return datetime(day.year, day.month, day.day, hour, tzinfo=timezone.get_default_timezone())


@pytest.fixture
def a_set(tmp_path, settings, monkeypatch):
    """The key file of a set, locked; the clock stands where a test puts it."""
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    settings.RELATIONS_HOME = tmp_path
    settings.RELATIONS_ON_OPENING = []
    kept = slots.new_set_file(SAID, {"passphrase": PASSPHRASE, "home": SECRET}, MASTER)
    slots.write_key_file(tmp_path / "keys.json", kept)
    keyring.lock()

    def stand_at(moment):
        monkeypatch.setattr(timezone, "now", lambda: moment)

    stand_at(on(LAST))
    yield stand_at
    keyring.hold(MASTER)


def names():
    return [slot["name"] for slot in slots.read_key_file(home().keys)["slots"]]


def test_home_knows_that_it_is_a_set_and_any_other_home_is_none(a_set, tmp_path, settings):
    said = home().travelling
    assert (said.trip, said.until, said.key) == ("T7", LAST, UUID(SAID["key"]))
    settings.RELATIONS_HOME = tmp_path / "elsewhere"
    assert home().travelling is None
    assert not travelling.is_over()
    travelling.stand()


@pytest.mark.parametrize("secret", [PASSPHRASE, SECRET])
def test_it_opens_by_its_passphrase_and_by_what_the_register_knows(a_set, secret):
    keyring.unlock(secret)
    assert not keyring.locked


@pytest.mark.parametrize(
    ("part", "other"), [("until", "2027-12-13"), ("trip", "T8"), ("key", str(UUID(int=7)))]
)
def test_set_of_which_one_word_was_changed_opens_by_nothing(a_set, part, other):
    kept = slots.read_key_file(home().keys)
    changed = {**kept, "set": {**kept["set"], part: other}}
    for slot, secret in zip(kept["slots"], (PASSPHRASE, SECRET), strict=True):
        assert slots.open_slot(slot, secret, slots.sort_of(kept)) == MASTER
        with pytest.raises(SealBroken):
            slots.open_slot(slot, secret, slots.sort_of(changed))
        for kind in ("real", "travelling", "rehearsal"):
            with pytest.raises(SealBroken):
                slots.open_slot(slot, secret, kind)


def test_last_second_of_its_last_day_and_first_of_the_next(a_set):
    a_set(on(LAST, 23) + timedelta(minutes=59, seconds=59))
    assert not travelling.is_over()
    assert names() == ["passphrase", "home"]
    a_set(on(LAST + timedelta(days=1), 0))
    assert travelling.is_over()
    assert names() == ["home"]


def test_clock_put_back_does_not_bring_a_wiped_slot_back(a_set):
    a_set(on(LAST + timedelta(days=1)))
    assert travelling.is_over()
    a_set(on(LAST))
    assert not travelling.is_over()
    with pytest.raises(WrongSecret):
        keyring.unlock(PASSPHRASE)


def test_day_that_lists_stand_on_does_not_hold_its_last_day(a_set, settings):
    settings.RELATIONS_TODAY = LAST
    a_set(on(LAST + timedelta(days=1)))
    assert travelling.is_over()


def test_disk_that_takes_no_writing_keeps_it_shut_all_the_same(a_set, monkeypatch):
    def full(*_args):
        raise OSError("read-only")

    monkeypatch.setattr(travelling, "write_key_file", full)
    a_set(on(LAST + timedelta(days=1)))
    assert travelling.is_over()


def test_opening_of_a_set_whose_clock_is_behind_its_log_is_refused_and_ends_nothing(
    a_set, monkeypatch
):
    monkeypatch.setattr(clock, "last_known", lambda: on(LAST))
    a_set(on(LAST) - clock.TOLERANCE)
    travelling.stand()
    a_set(on(LAST) - clock.TOLERANCE - timedelta(seconds=1))
    with pytest.raises(travelling.SetClockBehind):
        travelling.stand()
    assert names() == ["passphrase", "home"]
    monkeypatch.setattr(clock, "last_known", lambda: None)
    travelling.stand()


def test_opening_after_its_last_day_is_refused(a_set):
    a_set(on(LAST + timedelta(days=1)))
    with pytest.raises(travelling.SetEnded):
        travelling.stand()


def test_pages_say_that_it_is_over_whatever_is_typed_and_an_open_one_is_locked(a_set):
    client = Client()
    assert client.get("/").status_code == 503
    keyring.unlock(PASSPHRASE)
    keyring.let_in()
    a_set(on(LAST + timedelta(days=1)))
    for page in (client.get("/in/"), client.post("/", {"passphrase": PASSPHRASE})):
        assert page.status_code == 503
        assert "This travelling set is over." in page.content.decode()
    assert keyring.locked
    assert names() == ["home"]


def test_page_says_that_the_clock_is_behind(a_set, settings, monkeypatch):
    settings.RELATIONS_ON_OPENING = ["relations.privacy.travelling.stand"]
    monkeypatch.setattr(clock, "last_known", lambda: on(LAST) + timedelta(hours=1))
    page = Client().post("/", TYPED, content_type="application/x-www-form-urlencoded")
    assert page.status_code == 503
    assert "is behind the last entry of the set" in page.content.decode()
    assert keyring.locked


def test_new_passphrase_keeps_the_last_day(a_set):
    keyring.unlock(PASSPHRASE)
    keyring.rewrap("passphrase", "five lamps along the mole")
    keyring.lock()
    keyring.unlock("five lamps along the mole")
    kept = json.loads(home().keys.read_text())
    assert kept["set"] == SAID
    assert names() == ["passphrase", "home"]


def test_set_is_not_rekeyed(a_set):
    with pytest.raises(CommandError, match="keeps its keys"):
        call_command("rekey")


@pytest.mark.parametrize("said", [{"passphrase": PASSPHRASE}, {"passphrase": "a", "keeper": "b"}])
def test_set_has_its_two_slots_and_no_other(said):
    with pytest.raises(ValueError, match="passphrase and home"):
        slots.new_set_file(SAID, said, MASTER)
