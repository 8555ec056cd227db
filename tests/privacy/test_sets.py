"""A set is made with its key file last, is spoken to through a pipe, and is wiped keys first."""

import json
import os
from types import SimpleNamespace

import pytest

from relations.privacy import sets, slots
from relations.privacy.crypt import Cost
from relations.privacy.keys import keyring

MASTER = bytes(range(32))
SAID = {"trip": "T7", "until": "2026-12-13", "key": "00000000-0000-4000-8000-00000000000a"}

pytestmark = pytest.mark.unlocked


@pytest.fixture(autouse=True)
def cheap(monkeypatch, tmp_path, settings):
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    settings.RELATIONS_HOME = tmp_path / "set"
    yield
    keyring.hold(MASTER)


def a_set(root):
    """Something that lies as a set does."""
    (root / "scans").mkdir(parents=True)
    for name in ("register.db", "cookie.key", "scans/one"):
        (root / name).write_bytes(b"sealed" * 300_000)
    kept = slots.new_set_file(SAID, {"passphrase": "a" * 15, "home": "b"}, MASTER)
    slots.write_key_file(root / "keys.json", kept)


def test_key_file_comes_last_and_holds_a_master_of_its_own(tmp_path, monkeypatch):
    root, there = tmp_path / "set", []
    monkeypatch.setattr(sets.tables, "make_all", lambda: None)
    monkeypatch.setattr(sets, "connection", SimpleNamespace(close=lambda: None))

    def fill():
        there.extend(path.name for path in root.iterdir())

    sets.make(SAID, "a passphrase of its own", "what home knows", fill)
    assert there == ["cookie.key"]
    assert sets.statement(root) == SAID
    kept = slots.read_key_file(root / "keys.json")
    opened = slots.open_slot(kept["slots"][0], "a passphrase of its own", slots.sort_of(kept))
    assert opened == slots.open_slot(kept["slots"][1], "what home knows", slots.sort_of(kept))
    assert opened != MASTER


def test_nothing_is_made_where_something_lies(tmp_path):
    (tmp_path / "set").mkdir()
    (tmp_path / "set" / "letter").write_text("mine")
    with pytest.raises(FileExistsError):
        sets.make(SAID, "a passphrase of its own", "what home knows", lambda: None)


def test_home_and_empty_folder_are_no_set(tmp_path):
    with pytest.raises(sets.NoSet, match="no travelling set in"):
        sets.statement(tmp_path)
    kept = slots.new_key_file("rehearsal", {"open": "open"}, MASTER)
    slots.write_key_file(tmp_path / "keys.json", kept)
    with pytest.raises(sets.NoSet, match="is a home"):
        sets.statement(tmp_path)


def test_wiping_overwrites_every_file_and_leaves_nothing(tmp_path):
    root = tmp_path / "set"
    a_set(root)
    os.link(root / "register.db", tmp_path / "same bytes")
    sets.wipe(root)
    assert not root.exists()
    assert not any((tmp_path / "same bytes").read_bytes())


def test_wiping_that_was_cut_short_opens_for_nobody_and_is_done_again(tmp_path, monkeypatch):
    root = tmp_path / "set"
    a_set(root)

    def cut(path):
        raise OSError("killed")

    with monkeypatch.context() as patched:
        patched.setattr(sets, "_overwrite", cut)
        with pytest.raises(OSError, match="killed"):
            sets.wipe(root)
    assert slots.read_key_file(root / "keys.json")["slots"] == []
    assert sets.statement(root) == SAID
    sets.wipe(root)
    assert not root.exists()


def test_command_inside_says_why_it_failed_and_hears_nothing_by_its_arguments(
    tmp_path, monkeypatch
):
    seen = {}

    def run(line, **how):
        seen.update(how, line=line)
        return SimpleNamespace(returncode=seen["code"], stdout="{}", stderr="a\nwhy\n")

    monkeypatch.setattr(sets, "subprocess", SimpleNamespace(run=run))
    seen["code"] = 0
    assert sets.inside(tmp_path, "travel", {"passphrase": "secret word"}) == {}
    assert json.loads(seen["input"]) == {"passphrase": "secret word"}
    assert "secret word" not in str([seen["line"], seen["env"]])
    assert seen["env"]["RELATIONS_DATABASE_URL"] == ""
    seen["code"] = 1
    with pytest.raises(sets.NoSet, match=r"^why$"):
        sets.inside(tmp_path, "travel", {})
