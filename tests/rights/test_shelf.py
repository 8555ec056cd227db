"""A folder that will not do is named in plain words, and only what is ours is taken from it."""

import errno
import fcntl
import os
from collections import namedtuple
from datetime import datetime, timedelta
from uuid import uuid4

import pytest
from django.utils import timezone

from relations.privacy import ledger, log, rekeying
from relations.privacy.files import PART
from relations.privacy.home import home
from relations.privacy.keys import keyring
from relations.privacy.models import AccessEntry, LogHead
from relations.rights import backing_up, shelf
from relations.rights.models import Backup
from relations.rights.shelf import Unfit

pytestmark = [pytest.mark.unlocked, pytest.mark.django_db]
HEAD = "ab12cd34" + "0" * 56


def put(folder, at, seq=1):
    path = folder / shelf.name_of(at, seq, HEAD)
    path.write_bytes(b"old")
    return path


def days_before(at, days):
    """The same time of day, so many days of the calendar before."""
    return timezone.make_aware(timezone.make_naive(at) - timedelta(days=days))


def test_a_name_says_when_it_was_begun(tmp_path):
    at = timezone.make_aware(datetime(2026, 11, 25, 16, 52))  # noqa: DTZ001
    path = put(tmp_path, at, 123)
    assert path.name == "2026-11-25-1652-123-ab12cd34.backup"
    assert shelf.begun(path) == at


def test_only_what_is_called_like_a_backup_and_old_is_old(tmp_path):
    # In the last hour of a winter's day, 91 times 24 hours before is 90 days before in summer.
    at = timezone.make_aware(datetime(2026, 11, 25, 23, 30))  # noqa: DTZ001
    older, oldest = put(tmp_path, days_before(at, 91)), put(tmp_path, days_before(at, 400))
    put(tmp_path, days_before(at, 90))
    put(tmp_path, at)
    (tmp_path / "2020-01-01-1200-letters.backup").write_text("mine")
    (tmp_path / f"{PART}2020-01-01-1200-1-ab12cd34.backup").write_text("mine")
    assert shelf.old_ones(tmp_path, timezone.localdate(at)) == [oldest, older]
    assert shelf.remove([oldest, older]) == [oldest.name, older.name]
    assert len(list(tmp_path.iterdir())) == 4


def test_what_an_interrupted_backup_left_is_swept_and_nothing_else(tmp_path):
    for name in ("2026-11-25-1652-1-ab12cd34.backup", "ledger", "ab_cd123"):
        (tmp_path / f"{PART}{name}").write_text("left")
    for name in (f"{PART}of-another-program.txt", "letters.txt"):
        (tmp_path / name).write_text("mine")
    with shelf.taken(tmp_path):
        assert sorted(path.name for path in tmp_path.iterdir()) == [
            f"{PART}of-another-program.txt",
            "letters.txt",
        ]


def test_one_backup_at_a_time_is_written_into_a_folder(tmp_path):
    other = os.open(tmp_path, os.O_RDONLY)
    fcntl.flock(other, fcntl.LOCK_EX)
    try:
        with pytest.raises(Unfit, match="Another backup is being written"), shelf.taken(tmp_path):
            pass  # pragma: no cover
    finally:
        os.close(other)
    with shelf.taken(tmp_path):
        pass


def test_a_folder_that_is_not_there_or_no_folder_is_said(tmp_path):
    (tmp_path / "file").write_text("x")
    for name in ("nowhere", "file"):
        with pytest.raises(Unfit, match="There is no folder"), shelf.taken(tmp_path / name):
            pass  # pragma: no cover


def test_a_folder_nobody_may_read_is_said(tmp_path, monkeypatch):
    def refused(*args):
        raise PermissionError(errno.EACCES, "no")

    monkeypatch.setattr(shelf.os, "open", refused)
    with pytest.raises(Unfit, match="Nothing may be written"), shelf.taken(tmp_path):
        pass  # pragma: no cover


def test_a_folder_inside_the_home_is_refused_by_any_way_to_it(a_home, tmp_path):
    inside = home().root / "backups"
    inside.mkdir()
    way = tmp_path / "way"
    way.symlink_to(inside)
    for folder in (inside, way, home().root):
        with pytest.raises(Unfit, match="inside the home"):
            shelf.check(folder, timezone.now(), 0)


def test_a_disk_that_is_read_only_is_said(a_home, shelf_folder, monkeypatch):
    def refused(*args, **kwargs):
        raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    monkeypatch.setattr(shelf.Path, "touch", refused)
    with pytest.raises(Unfit, match=r"Nothing may be written into .*: Read-only file system\."):
        shelf.check(shelf_folder, timezone.now(), 0)


def test_without_room_it_says_how_much_is_needed(a_home, shelf_folder, monkeypatch):
    usage = namedtuple("usage", "free")
    monkeypatch.setattr(shelf.shutil, "disk_usage", lambda folder: usage(3 * shelf.MIB))
    with pytest.raises(Unfit, match=r"no room in .*: 4\.0 MB are needed, 3\.0 MB are free\."):
        shelf.check(shelf_folder, timezone.now(), 4 * shelf.MIB)
    shelf.check(shelf_folder, timezone.now(), 3 * shelf.MIB)


def test_a_disk_that_fills_up_meanwhile_is_said_and_left_as_it_was(
    a_home, shelf_folder, monkeypatch
):
    def full(parts, key):
        yield from ()
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(backing_up.archive, "written", full)
    with pytest.raises(Unfit, match="There is no room"):
        backing_up.make(shelf_folder)
    assert list(shelf_folder.iterdir()) == []


def test_another_fault_of_the_disk_is_not_hidden(a_home, shelf_folder, monkeypatch):
    def broken(parts, key):
        yield from ()
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    monkeypatch.setattr(backing_up.archive, "written", broken)
    with pytest.raises(OSError, match="Input/output error"):
        backing_up.make(shelf_folder)


def test_a_clock_that_went_back_is_said_before_anything_goes(a_home, shelf_folder):
    with pytest.raises(Unfit, match="Set the clock"):
        shelf.check(shelf_folder, timezone.now() - timedelta(hours=1), 0)
    # Somebody may be at work just now.
    shelf.check(shelf_folder, timezone.now() - timedelta(minutes=1), 0)
    AccessEntry.objects.all().delete()
    shelf.check(shelf_folder, timezone.now() - timedelta(hours=1), 0)


def test_the_key_file_of_another_home_is_never_overwritten(a_home, shelf_folder):
    other = home().keys.read_text().replace('"wrapped": "', '"wrapped": "AAAA')
    for content in (other, "{}", "not even JSON"):
        (shelf_folder / "keys.json").write_text(content)
        with pytest.raises(Unfit, match="of another home"):
            backing_up.make(shelf_folder)
        assert (shelf_folder / "keys.json").read_text() == content


def test_after_a_rekey_the_folder_is_still_this_home_s(a_home, shelf_folder):
    first = backing_up.make(shelf_folder)
    rekeying.begin({"passphrase": "a lamp on the third stone", "recovery": "7" * 28})
    rekeying.finish()
    second = backing_up.make(shelf_folder)
    assert keyring.month_key_numbered(2)
    assert {first.path, second.path} == set(shelf.backups(shelf_folder))
    # Not by the name of a backup alone.
    for path in shelf.backups(shelf_folder):
        path.write_bytes(b"x" * 4000)
    (shelf_folder / "keys.json").write_text("{}")
    with pytest.raises(Unfit, match="of another home"):
        backing_up.make(shelf_folder)


def test_the_newest_key_file_and_ledger_lie_beside_it(a_home, shelf_folder):
    ledger.append(uuid4())
    backing_up.make(shelf_folder)
    assert (shelf_folder / "ledger").read_bytes() == ledger.path().read_bytes()
    ledger.append(uuid4())
    keyring.rewrap("keeper", "another passphrase of the keeper")
    made = backing_up.make(shelf_folder)
    assert (shelf_folder / "ledger").read_bytes() == ledger.path().read_bytes()
    assert (shelf_folder / "keys.json").read_text() == home().keys.read_text()
    ledger.path().write_bytes(b"changed\n")
    with pytest.raises(Unfit, match="line 1 of the ledger"):
        backing_up.make(shelf_folder)
    assert shelf.backups(shelf_folder)[-1] == made.path


def test_an_older_register_in_the_place_of_the_newer_is_seen_by_the_newest_name(
    a_home, shelf_folder
):
    assert shelf.ahead(shelf_folder) is None
    made = backing_up.make(shelf_folder)
    assert shelf.ahead(shelf_folder) is None
    seq = made.row.log_seq
    # As an older file would have it: its log ends earlier; then goes on otherwise.
    AccessEntry.objects.filter(seq__gte=seq).delete()
    last = AccessEntry.objects.order_by("seq").last()
    LogHead.objects.update(seq=last.seq, mac=last.mac)
    assert shelf.ahead(shelf_folder) == made.path
    for _ in range(3):
        log.note(None, "read", "x", None)
    assert shelf.ahead(shelf_folder) == made.path
    again = backing_up.make(shelf_folder)
    assert again.ahead == made.path
    # One that was restored since lacks these lines rightly.
    Backup.objects.filter(pk=again.row.pk).update(restored_at=timezone.now() + timedelta(hours=1))
    assert shelf.ahead(shelf_folder) is None


def test_lines_that_were_pruned_are_not_missed(a_home, shelf_folder):
    backing_up.make(shelf_folder)
    log.prune(timezone.now() + timedelta(days=1))
    log.note(None, "read", "x", None)
    assert shelf.ahead(shelf_folder) is None


def test_old_backups_and_keys_go_only_once_a_new_one_stands(a_home, shelf_folder, monkeypatch):
    first = backing_up.make(shelf_folder)
    later = timezone.now() + timedelta(days=125)
    with monkeypatch.context() as patch:
        patch.setattr(timezone, "now", lambda: later)
        patch.setattr(backing_up, "_forget_pages", lambda part: part.write_bytes(b""))
        with pytest.raises(backing_up.archive.Damaged):
            backing_up.make(shelf_folder)
    assert first.path.exists()
    assert keyring.month_key_numbered(1)
    old = (shelf_folder / "keys.json").read_text()
    monkeypatch.setattr(timezone, "now", lambda: later)
    second = backing_up.make(shelf_folder)
    assert second.removed == [first.path.name]
    assert second.months == [f"{first.row.made_at:%Y-%m}"]
    assert shelf.backups(shelf_folder) == [second.path]
    assert AccessEntry.objects.filter(verb="destroyed").count() == 1
    kept = (shelf_folder / "keys.json").read_text()
    assert kept == home().keys.read_text()
    wrapped = old.partition('"months"')[2].partition('"wrapped": "')[2][:40]
    assert wrapped in old
    assert wrapped not in kept
