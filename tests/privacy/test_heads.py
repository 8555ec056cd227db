"""Heads of the log outside the database: on the disk at once or within a minute, never torn."""

import stat

import pytest

from relations.privacy import heads

MAC = "ab" * 32


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path
    return tmp_path


@pytest.fixture
def clock(monkeypatch):
    moment = [1000.0]
    monkeypatch.setattr(heads.time, "monotonic", lambda: moment[0])
    return moment


def test_heads_are_added_and_never_replaced(own_home):
    assert heads.read() == []
    heads.keep(1, MAC)
    heads.keep(5, MAC)
    assert heads.read() == [(1, MAC), (5, MAC)]
    assert stat.S_IMODE((own_home / "log.heads").stat().st_mode) == 0o600


def test_heads_of_the_ledger_lie_in_a_file_of_their_own(own_home):
    heads.keep(1, MAC)
    heads.keep(7, MAC, heads.LEDGER)
    assert (heads.read(), heads.read(heads.LEDGER)) == ([(1, MAC)], [(7, MAC)])
    heads.replace([(8, MAC)], heads.LEDGER)
    assert heads.read(heads.LEDGER) == [(8, MAC)]
    assert {path.name for path in own_home.iterdir()} == {"log.heads", "ledger.heads"}


def test_a_head_is_on_the_disk_before_it_counts(monkeypatch):
    synced = []
    monkeypatch.setattr(heads.os, "fsync", synced.append)
    heads.keep(1, MAC)
    heads.keep(2, MAC)
    assert len(synced) == 3  # the file twice, its name once


def test_a_sign_in_is_kept_at_once_and_other_lines_once_a_minute(clock):
    assert heads.is_due("read")
    assert not heads.is_due("read")
    assert heads.is_due("signed_in")
    clock[0] += 59.9
    assert not heads.is_due("read")
    clock[0] += 0.1
    assert heads.is_due("read")


def test_a_line_torn_by_a_cut_of_power_is_passed_over(own_home):
    heads.keep(1, MAC)
    with (own_home / "log.heads").open("ab") as file:
        file.write(b"2 abab\nx\n\xff\xff\n")
    heads.keep(3, MAC)
    assert heads.read() == [(1, MAC), (3, MAC)]


def test_heads_of_pruned_lines_are_dropped(own_home):
    for seq in (1, 2, 3):
        heads.keep(seq, MAC)
    heads.forget_before(2)
    assert heads.read() == [(2, MAC), (3, MAC)]
    assert [path.name for path in own_home.iterdir()] == ["log.heads"]
    assert stat.S_IMODE((own_home / "log.heads").stat().st_mode) == 0o600
