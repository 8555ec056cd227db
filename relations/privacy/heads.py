"""The heads of access log and ledger, kept in files of their own, so that a cut end shows.

One line each: number, hash. Kept at once when somebody signs in or out or the log is pruned, and
else at most once a minute: an fsync for each line would cost more than the line, and what a cut
can hide is so never more than the last minute of somebody who is still signed in. The hash is
keyed; whoever can write both the database and this file can cut both. Against that only a copy in
another place helps, such as the one in each backup.
"""

import os
import threading
import time
from collections.abc import Iterable
from pathlib import Path

from django.conf import settings

from .home import home
from .slots import sync_folder

AT_ONCE = frozenset({"signed_in", "signed_out", "pruned", "rekeyed"})
AT_MOST_EVERY = 60.0  # seconds
LOG, LEDGER = "log.heads", "ledger.heads"

_mutex = threading.Lock()
_due: dict[str, float] = {}


def _path(of: str = LOG) -> Path:
    return home().root / of


def is_due(verb: str) -> bool:
    """Whether the head after a line with this verb is to be kept."""
    root = str(settings.RELATIONS_HOME)  # asked at every line, so no file is looked at
    with _mutex:
        now = time.monotonic()
        if verb not in AT_ONCE and now < _due.get(root, 0.0):
            return False
        _due[root] = now + AT_MOST_EVERY
        return True


def keep(seq: int, mac: str, of: str = LOG) -> None:
    """Add one head to the file; it is on the disk when this returns."""
    path = _path(of)
    is_new = not path.exists()
    handle = os.open(path, os.O_CREAT | os.O_APPEND | os.O_WRONLY, 0o600)
    try:
        os.write(handle, f"{seq} {mac}\n".encode())
        os.fsync(handle)
    finally:
        os.close(handle)
    if is_new:
        sync_folder(path.parent)


def read(of: str = LOG) -> list[tuple[int, str]]:
    """Every head that was kept. A line cut by a cut of power is passed over."""
    try:
        text = _path(of).read_text(encoding="ascii", errors="replace")
    except FileNotFoundError:
        return []
    found = []
    for line in text.splitlines():
        seq, _, mac = line.partition(" ")
        if seq.isdecimal() and len(mac) == 64:
            found.append((int(seq), mac))
    return found


def forget_before(seq: int) -> None:
    """Drop the heads of lines that were pruned; the file is whole or the old one."""
    replace((one for one in read() if one[0] >= seq), LOG)


def replace(kept: Iterable[tuple[int, str]], of: str) -> None:
    """Keep these heads instead of those that were kept."""
    write_whole(_path(of), [f"{seq} {mac}\n" for seq, mac in kept])


def write_whole(path: Path, lines: list[str]) -> None:
    """Put these lines in the place of a file, which is whole on the disk or still the old one."""
    part = path.with_name(f".part-{path.name}")
    with os.fdopen(os.open(part, os.O_CREAT | os.O_TRUNC | os.O_WRONLY, 0o600), "w") as file:
        file.writelines(lines)
        file.flush()
        os.fsync(file.fileno())
    part.replace(path)
    sync_folder(path.parent)
