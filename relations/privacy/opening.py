"""Making and opening a home from the command line."""

import getpass
import os
import resource
import secrets
import sys
import time
from pathlib import Path

from django.core.management.base import CommandError

from .home import home
from .keys import TooSoon, WrongSecret, keyring
from .slots import Kind, new_key_file, sync_folder, write_key_file

TRIES = 3


def ask(prompt: str, *, hidden: bool = False) -> str:
    """A line typed by the person, or the next line of standard input where nobody sits there."""
    if not sys.stdin.isatty():
        line = sys.stdin.readline()
        if not line:
            raise CommandError("Standard input ended before every question was answered.")
        return line.rstrip("\r\n")
    return getpass.getpass(prompt) if hidden else input(prompt)


def guard_process() -> None:
    """A crash must not write the key to disk; what is written is for its owner alone."""
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    os.umask(0o077)


def open_home() -> None:
    """Open the home for a command: a rehearsal by itself, a real one by its passphrase.

    Raise CommandError where there is no home or three tries were wrong.
    """
    guard_process()
    if not keyring.locked:
        return
    if not home().keys.is_file():
        raise CommandError(f"There is no home at {home().root} yet. Run: manage.py begin")
    if home().is_rehearsal:
        keyring.unlock_rehearsal()
        return
    for _ in range(TRIES):
        said = ask("Passphrase: ", hidden=True)
        try:
            _unlock_in_time(said)
        except WrongSecret:
            continue
        return
    raise CommandError("The home stays locked: the passphrase was wrong.")


def _unlock_in_time(said: str) -> None:
    """Try a secret, after the wait that an earlier wrong one brought."""
    try:
        keyring.unlock(said)
    except TooSoon as error:
        time.sleep(error.seconds)
        keyring.unlock(said)


def make_home(kind: Kind, said: dict[str, str]) -> None:
    """Make the folder, a new master key wrapped under each secret in `said`, and hold the key.

    `said` is {"passphrase": …, "recovery": …} for a real home, {"open": …} for a rehearsal.
    Raise FileExistsError where a home is already.
    """
    guard_process()
    root, master = home().root, secrets.token_bytes(32)
    root.mkdir(mode=0o700, parents=True, exist_ok=True)
    _write_private(root / "cookie.key", secrets.token_urlsafe(50))
    sync_folder(root)
    write_key_file(home().keys, new_key_file(kind, said, master))
    keyring.hold(master)


def _write_private(path: Path, text: str) -> None:
    with os.fdopen(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "w") as file:
        file.write(text)
        file.flush()
        os.fsync(file.fileno())
