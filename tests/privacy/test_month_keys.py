"""A month has one key, which lies in the key file only, and is gone when its time is over."""

import json
import os
from datetime import date, timedelta

import pytest

from relations.privacy import month_keys, slots
from relations.privacy.crypt import Cost, SealBroken
from relations.privacy.keys import Keyring, Locked
from relations.privacy.month_keys import NoMonthKey

MASTER, OTHER = bytes(range(32)), bytes(range(1, 33))
PASSPHRASE, CODE = "six words that nobody guesses", "0" * 28
DAY = date(2026, 11, 30)


@pytest.fixture
def path(tmp_path, monkeypatch):
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    kept = slots.new_key_file("real", {"passphrase": PASSPHRASE, "recovery": CODE}, MASTER)
    slots.write_key_file(tmp_path / "keys.json", kept)
    return tmp_path / "keys.json"


@pytest.fixture
def ring(path):
    ring = Keyring(lambda: path)
    ring.unlock(PASSPHRASE)
    return ring


def test_a_month_keeps_its_key_and_each_month_has_another(ring, path):
    first = ring.month_key(date(2026, 11, 1))
    assert (first.number, first.month, len(first.key)) == (1, "2026-11", 32)
    assert ring.month_key(DAY) == first
    second = ring.month_key(date(2026, 12, 1))
    assert (second.number, second.month) == (2, "2026-12")
    assert second.key != first.key
    again = Keyring(lambda: path)
    again.unlock(CODE)
    assert [again.month_key_numbered(number) for number in (1, 2)] == [first, second]


def test_months_that_have_a_key_are_named_once_and_in_order(ring, path):
    assert month_keys.months(slots.read_key_file(path)) == []
    for on in (date(2026, 12, 1), DAY, date(2026, 11, 1)):
        ring.month_key(on)
    assert month_keys.months(slots.read_key_file(path)) == ["2026-11", "2026-12"]


def test_a_key_lies_wrapped_and_bound_to_its_month(ring, path):
    key = ring.month_key(DAY)
    kept = slots.read_key_file(path)
    assert key.key not in path.read_bytes()
    for part, other in (("month", "2027-11"), ("number", 3), ("since", 2)):
        changed = json.loads(json.dumps(kept))
        changed["months"]["keys"][0][part] = other
        number = changed["months"]["keys"][0]["number"]
        with pytest.raises(SealBroken):
            month_keys.numbered(changed, MASTER, number)
    with pytest.raises(SealBroken):
        month_keys.numbered(kept, OTHER, 1)
    kept["months"]["keys"][0]["nonce"] = "é"
    with pytest.raises(SealBroken, match="damaged"):
        month_keys.numbered(kept, MASTER, 1)


def test_a_locked_keyring_makes_and_opens_no_key(path):
    for ask in (lambda ring: ring.month_key(DAY), lambda ring: ring.month_key_numbered(1)):
        with pytest.raises(Locked):
            ask(Keyring(lambda: path))


# A backup of the month can be from its last day; 90 days after that nothing of it is needed.
@pytest.mark.parametrize(
    ("month", "last", "first_without"),
    [
        ("2026-11", date(2026, 11, 30), date(2027, 3, 1)),
        ("2026-12", date(2026, 12, 31), date(2027, 4, 1)),
        ("2027-02", date(2027, 2, 28), date(2027, 5, 30)),
        ("2028-02", date(2028, 2, 29), date(2028, 5, 30)),  # a leap year
    ],
)
def test_a_key_goes_ninety_days_after_the_last_day_of_its_month(ring, month, last, first_without):
    assert month_keys.last_day(month) == last
    assert first_without - last == timedelta(days=91)
    ring.month_key(last)
    assert ring.destroy_month_keys(first_without - timedelta(days=1)) == []
    assert ring.month_key_numbered(1)
    assert ring.destroy_month_keys(first_without) == [month]
    with pytest.raises(NoMonthKey) as gone:
        ring.month_key_numbered(1)
    assert gone.value.was_destroyed
    with pytest.raises(NoMonthKey) as never:
        ring.month_key_numbered(2)
    assert not never.value.was_destroyed


def test_the_number_of_a_destroyed_key_is_not_used_again(ring):
    ring.month_key(DAY)
    ring.destroy_month_keys(DAY + timedelta(days=400))
    assert ring.month_key(DAY + timedelta(days=400)).number == 2


def test_a_destroyed_key_is_neither_in_the_file_nor_where_the_file_lay(ring, path):
    ring.month_key(DAY)
    wrapped = slots.read_key_file(path)["months"]["keys"][0]["wrapped"]
    with path.open("rb") as old:  # the blocks of the file as it was
        ring.destroy_month_keys(DAY + timedelta(days=400))
        assert old.read().strip(b"\0") == b""
    assert wrapped not in path.read_text()


def test_a_copy_that_somebody_keeps_under_another_name_is_not_blanked(ring, path):
    copy = path.with_name("copy.json")
    os.link(path, copy)
    before = copy.read_text()
    ring.month_key(DAY)
    assert copy.read_text() == before != path.read_text()


def test_without_keys_that_are_too_old_nothing_is_written(ring, path):
    before = path.stat().st_ino
    assert ring.destroy_month_keys(DAY) == []
    ring.rewrap("keeper", "a key under the third stone")
    ring.month_key(DAY)
    before = path.stat().st_ino
    assert ring.destroy_month_keys(DAY) == []
    ring.month_key(DAY)
    assert path.stat().st_ino == before


def test_a_new_passphrase_leaves_them_and_a_rekey_wraps_them_anew(ring, path):
    before = ring.month_key(DAY)
    old_file = path.read_text()
    ring.rewrap("passphrase", "other words that nobody guesses")
    assert ring.month_key_numbered(1) == before
    ring.begin_rekey({"passphrase": "third words that nobody guesses", "recovery": CODE}, 0)
    # At once, halfway already: so there is nothing of it to go on with after a kill.
    assert ring.is_halfway
    assert ring.month_key_numbered(1) == before
    ring.end_rekey()
    again = Keyring(lambda: path)
    again.unlock("third words that nobody guesses")
    assert again.month_key_numbered(1) == before
    # What is backed up from now on does not open with a key file from before the rekey.
    after = again.month_key(DAY)
    assert (after.number, after.month) == (2, "2026-11")
    assert after.key != before.key
    assert again.month_key(DAY) == after
    path.write_text(old_file)
    thief = Keyring(lambda: path)
    thief.unlock(PASSPHRASE)
    with pytest.raises(NoMonthKey):
        thief.month_key_numbered(2)
