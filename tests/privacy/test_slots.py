"""The key file: a slot opens with its own secret only, and the file is whole or the old one."""

import json
import os
import stat

import pytest

from relations.privacy import slots
from relations.privacy.crypt import Cost, SealBroken

MASTER = bytes(range(32))
SAID = "six words that nobody guesses"
CHEAP = Cost(8, 1, 1)


def slot(name="passphrase", secret=SAID, kind="real"):
    return slots.make_slot(name, secret, MASTER, kind, CHEAP)


def test_a_slot_opens_with_its_own_secret():
    assert slots.open_slot(slot(), "six words that nobody guesses", "real") == MASTER


def test_a_slot_does_not_open_with_another_secret():
    with pytest.raises(SealBroken):
        slots.open_slot(slot(), "six words that nobody guesses ", "real")


def test_two_ways_to_type_the_same_letters_open_alike():
    composed, decomposed = "caf\u00e9 au bord de l\u2019eau", "cafe\u0301 au bord de l\u2019eau"
    assert composed != decomposed
    assert slots.open_slot(slot(secret=composed), decomposed, "real") == MASTER


@pytest.mark.parametrize("said", ["ABCD-EFGH-01", "abcd efgh o1", " abcd-efgh-oi ", "abcdefgh0l"])
def test_a_recovery_code_opens_however_it_is_read_from_paper(said):
    kept = slot("recovery", "ABCD-EFGH-01")
    assert slots.open_slot(kept, said, "real") == MASTER


def test_a_new_recovery_code_holds_140_bits_in_signs_that_cannot_be_confused():
    code = slots.new_recovery_code()
    signs = code.replace("-", "")
    assert len(signs) * 5 == 140
    assert set(signs) <= set(slots.CODE_ALPHABET)
    assert not set("ILOU") & set(slots.CODE_ALPHABET)
    assert slots.recovery_text(code.lower()) == signs
    assert code != slots.new_recovery_code()


@pytest.mark.parametrize("part", ["memory", "passes", "lanes", "name", "salt"])
def test_a_slot_whose_parameters_were_changed_does_not_open(part):
    kept = slot()
    kept[part] = {"memory": 16, "passes": 2, "lanes": 2, "name": "other", "salt": "AAAAAAAAAAA="}[
        part
    ]
    with pytest.raises(SealBroken):
        slots.open_slot(kept, "six words that nobody guesses", "real")


def test_a_slot_of_a_rehearsal_does_not_open_in_a_real_home():
    with pytest.raises(SealBroken):
        slots.open_slot(slot(kind="rehearsal"), "six words that nobody guesses", "real")


def test_each_slot_keeps_the_cost_it_was_made_with():
    costs = {
        name: tuple(
            slots.make_slot(name, "words", MASTER, "real")[p] for p in ("memory", "passes", "lanes")
        )
        for name in ("recovery", "open")
    }
    assert costs == {"recovery": (65536, 1, 1), "open": (8, 1, 1)}
    assert slots.COSTS["passphrase"] == Cost(256 * 1024, 3, 2)


def test_only_the_open_slot_holds_its_secret():
    kept = slots.make_slot("open", "in the open", MASTER, "rehearsal")
    assert kept["secret"] == "in the open"
    assert "secret" not in slot()


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        ("real", {"open": "x"}),
        ("real", {"passphrase": "x", "open": "y"}),
        ("rehearsal", {"passphrase": "x"}),
        ("rehearsal", {"open": "x", "keeper": "y"}),
        ("real", {"passphrase": "x", "keeper": "y"}),
    ],
)
def test_an_open_slot_belongs_to_a_rehearsal_and_to_nothing_else(kind, said):
    with pytest.raises(ValueError, match="no other"):
        slots.new_key_file(kind, said, MASTER)


def test_a_key_file_is_written_for_its_owner_alone_and_read_back(tmp_path):
    path = tmp_path / "home" / "keys.json"
    kept = slots.new_key_file("rehearsal", {"open": "in the open"}, MASTER)
    slots.write_key_file(path, kept)
    assert slots.read_key_file(path) == kept
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700


def test_a_key_file_that_cannot_be_written_leaves_the_old_one(tmp_path, monkeypatch):
    path = tmp_path / "keys.json"
    slots.write_key_file(path, {"version": 1, "kind": "real", "slots": ["old"]})

    def full(handle):
        raise OSError("disk full")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="disk full"):
        slots.write_key_file(path, {"version": 1, "kind": "real", "slots": ["new"]})
    assert slots.read_key_file(path)["slots"] == ["old"]
    assert [file.name for file in tmp_path.iterdir()] == ["keys.json"]


def test_a_key_file_of_another_version_is_refused(tmp_path):
    (tmp_path / "keys.json").write_text(json.dumps({"version": 2}))
    with pytest.raises(ValueError, match="version"):
        slots.read_key_file(tmp_path / "keys.json")


def test_a_slot_takes_the_place_of_the_one_of_its_name_only():
    kept = {"version": 1, "slots": [slot(), slot("recovery", "0000")]}
    added = slots.with_slot(kept, slot("keeper", "a key under the third stone"))
    assert [one["name"] for one in added["slots"]] == ["passphrase", "keeper", "recovery"]
    changed = slots.with_slot(added, slot(secret="other words"))
    assert [one["name"] for one in changed["slots"]] == ["passphrase", "keeper", "recovery"]
    assert changed["slots"][1:] == added["slots"][1:]
    assert slots.open_slot(changed["slots"][0], "other words", "real") == MASTER
    with pytest.raises(SealBroken):
        slots.open_slot(changed["slots"][0], SAID, "real")
