"""The folder that backups lie in: whether it will do, what lies in it, and what goes from it."""

import fcntl
import os
import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import date, datetime, timedelta
from pathlib import Path

from django.utils import timezone

from relations.privacy import log
from relations.privacy.files import PART, sweep, write_whole
from relations.privacy.home import home
from relations.privacy.keys import keyring
from relations.privacy.models import AccessEntry
from relations.privacy.month_keys import KEPT, NoMonthKey
from relations.privacy.slots import read_key_file, sync_folder, write_key_file

from . import archive
from .models import Backup

MIB = 1024 * 1024
# Day and hour, the number of the log's last line and the beginning of its hash: a copy of the head
# outside the site, and no word of what it is about.
NAMED = re.compile(r"(\d{4}-\d\d-\d\d-\d{4})-(\d+)-([0-9a-f]{8})\.backup")


class Unfit(ValueError):  # noqa: N818 - read as a sentence where it is raised
    """No backup can be made there, or now; the message says why, in plain words."""


def name_of(at: datetime, seq: int, head: str) -> str:
    """What a backup is called that was begun at that moment and ends at this line of the log."""
    return f"{timezone.localtime(at):%Y-%m-%d-%H%M}-{seq}-{head[:8]}.backup"


def begun(path: Path) -> datetime:
    """The moment in the name of a backup, to the minute."""
    said = datetime.strptime(path.name[:15], "%Y-%m-%d-%H%M")  # noqa: DTZ007 - made so below
    return said.replace(tzinfo=timezone.get_default_timezone())


def backups(folder: Path) -> list[Path]:
    """The backups in a folder, the oldest first."""
    return sorted(path for path in folder.iterdir() if NAMED.fullmatch(path.name))


def old_ones(folder: Path, on: date) -> list[Path]:
    """The backups in a folder that are older than 90 days."""
    return [path for path in backups(folder) if on > begun(path).date() + KEPT]


def remove(paths: list[Path]) -> list[str]:
    """Take files away for good; return what they were called."""
    for path in paths:
        path.unlink()
        sync_folder(path.parent)
    return [path.name for path in paths]


@contextmanager
def taken(folder: Path) -> Iterator[None]:
    """The folder, for one backup at a time, without what an interrupted one left. Raise Unfit."""
    try:
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    except (FileNotFoundError, NotADirectoryError) as error:
        raise Unfit(
            f"There is no folder {folder}. Make it, or plug in the disk it is on."
        ) from error
    except PermissionError as error:
        raise Unfit(f"Nothing may be written into {folder}.") from error
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        for left in ("*.backup", "ledger", "????????"):  # the last: of a key file
            sweep(folder, left)
        yield
    except BlockingIOError as error:
        raise Unfit(f"Another backup is being written into {folder}.") from error
    finally:
        os.close(handle)


def check(folder: Path, at: datetime, needed: int) -> None:
    """Raise Unfit where a backup of `needed` bytes may not or cannot be made there, or now."""
    root = home().root.resolve()
    if folder.resolve().is_relative_to(root):
        raise Unfit(
            "This folder is inside the home. Who loses the home would lose its backups with it: "
            "take a folder on another disk."
        )
    try:
        (folder / f"{PART}trial").touch()
        (folder / f"{PART}trial").unlink()
    except OSError as error:
        raise Unfit(f"Nothing may be written into {folder}: {error.strerror}.") from error
    if not _is_ours(folder):
        raise Unfit(
            f"In {folder} lies the key file of another home. Give each home a folder of its own."
        )
    free = shutil.disk_usage(folder).free
    if free < needed:
        raise Unfit(no_room(folder, needed, free))
    last = AccessEntry.objects.order_by("-seq").values_list("at", flat=True).first()
    # Somebody may be at work just now.
    if last and last > at + timedelta(minutes=5):
        raise Unfit(
            f"This machine's clock says {timezone.localtime(at):%Y-%m-%d %H:%M}, but the register "
            f"was used on {timezone.localtime(last):%Y-%m-%d %H:%M}. Set the clock, then try again."
        )


def no_room(folder: Path, needed: int, free: int) -> str:
    """What is said where the disk is too full; both in bytes."""
    short = f"{needed / MIB:.1f} MB are needed, {free / MIB:.1f} MB are free"
    return f"There is no room in {folder}: {short}. Make room, or take another disk."


def _is_ours(folder: Path) -> bool:
    """Whether the key file there, if any, is a copy of this home's, which may be overwritten."""
    beside = folder / "keys.json"
    if not beside.exists():
        return True
    with suppress(ValueError, KeyError):
        wrapped = [
            {slot["wrapped"] for slot in read_key_file(path)["slots"]}
            for path in (beside, home().keys)
        ]
        if wrapped[0] & wrapped[1]:
            return True
    # After a rekey no slot is the same; but what it opened, the home still opens.
    return any(_opens(path) for path in reversed(backups(folder)))


def _opens(path: Path) -> bool:
    with suppress(NoMonthKey, archive.NotABackup, archive.Damaged):
        key = keyring.month_key_numbered(archive.number_of(path))
        next(archive.contents(path, key))
        return True
    return False


def copy_beside(folder: Path) -> None:
    """Put the newest key file, which opens every backup here, and the newest ledger beside them."""
    write_key_file(folder / "keys.json", read_key_file(home().keys))
    ledger = home().root / "ledger"
    if ledger.is_file():
        write_whole(folder / "ledger", [ledger.read_bytes()], Path.replace)


def ahead(folder: Path) -> Path | None:
    """The newest backup there, where it knows a line of the access log that the register lacks.

    Then an older register was put in the place of the newer one. One that was restored since then
    rightly lacks what came after its backup.
    """
    known = [(int(said[2]), said[3], path) for path in backups(folder) if (said := _said(path))]
    if not known:
        return None
    seq, head, newest = max(known)
    if Backup.objects.filter(restored_at__gt=begun(newest)).exists():
        return None
    first = AccessEntry.objects.order_by("seq").values_list("seq", flat=True).first() or 0
    line = AccessEntry.objects.filter(seq=seq).first()
    if line is None:
        return newest if seq > log.head()[0] or seq >= first else None
    return None if bytes(line.mac).hex().startswith(head) else newest


def _said(path: Path) -> "re.Match[str] | None":
    return NAMED.fullmatch(path.name)
