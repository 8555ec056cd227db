"""Makes a travelling set in a folder, speaks to one from the register, and wipes it.

A set has a master key of its own, so whatever is done in one is done by a process of its own, which
is told on its standard input what it needs: nothing of it stands in an argument, in the environment
or on the disk.
"""

import json
import os
import secrets
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.serializers.json import DjangoJSONEncoder
from django.db import connection

from . import tables
from .home import home
from .keys import keyring
from .opening import guard_process, new_cookie_key
from .slots import changing_key_file, new_set_file, read_key_file, sync_folder, write_key_file
from .travelling import HOME

SAID = "CommandError: "  # how a command that refuses begins its sentence


class NoSet(ValueError):  # noqa: N818 - read as a sentence where it is raised
    """There is no travelling set in this folder, or it does not answer; the message says why."""


def inside(root: Path, command: str, said: Any) -> Any:
    """Run a command of the site in the home at `root`; JSON goes in and comes out.

    Raise NoSet with what it said where it failed.
    """
    ours = {
        "DJANGO_SETTINGS_MODULE": "relations.settings",
        "RELATIONS_HOME": str(root),
        "RELATIONS_DATABASE_URL": "",
    }
    done = subprocess.run(
        [sys.executable, "-m", "django", command, "--inside"],
        cwd=settings.BASE_DIR,
        env=os.environ | ours,
        input=json.dumps(said, cls=DjangoJSONEncoder),
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode:
        raise NoSet(
            (done.stderr.strip().splitlines() or ["it ended without a word"])[-1].removeprefix(SAID)
        )
    return json.loads(done.stdout)


def statement(root: Path) -> dict[str, str]:
    """What the set in a folder says of itself: {"trip", "until", "key"}. Raise NoSet."""
    try:
        kept = read_key_file(root / "keys.json")
    except (OSError, ValueError) as error:
        raise NoSet(f"There is no travelling set in {root}.") from error
    if "set" not in kept:
        raise NoSet(f"What lies in {root} is a home, and no travelling set.")
    return dict(kept["set"])


def make(statement: dict[str, str], passphrase: str, secret: str, fill: Callable[[], None]) -> None:
    """Make a set in the home's empty folder, with a master key of its own; `fill` puts rows in.

    `secret` is what the register opens it with. The key file comes last: until then there is
    nothing that anybody could open. Raise FileExistsError where anything is there.
    """
    guard_process()
    root, master = home().root, secrets.token_bytes(32)
    root.mkdir(mode=0o700, parents=True, exist_ok=True)
    if any(root.iterdir()):
        raise FileExistsError(root)
    new_cookie_key()
    keyring.hold(master)
    tables.make_all()
    fill()
    connection.close()
    said = {"passphrase": passphrase, HOME: secret}
    write_key_file(home().keys, new_set_file(statement, said, master))


def wipe(root: Path) -> None:
    """Take a set away, its keys last known and first gone; cut short, it is done again.

    Each file is overwritten with zeros before its name goes. A disk without moving parts may keep
    the old bytes all the same; they are sealed under keys of which nothing but such bytes is left.
    """
    keys = root / "keys.json"
    with changing_key_file(keys) as kept:
        write_key_file(keys, {**kept, "slots": []})
    for path in sorted(root.rglob("*"), reverse=True):
        if path.is_file() and path != keys:
            _overwrite(path)
            path.unlink()
        elif path.is_dir():
            path.rmdir()
    sync_folder(root)
    keys.unlink()
    shutil.rmtree(root)


def _overwrite(path: Path) -> None:
    with path.open("r+b") as file:
        size = os.fstat(file.fileno()).st_size
        for begin in range(0, size, 1024 * 1024):
            file.write(bytes(min(1024 * 1024, size - begin)))
        file.flush()
        os.fsync(file.fileno())
