"""Making and opening a home from the command line."""

import argparse
import fcntl
import getpass
import hmac
import os
import resource
import secrets
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

from django.conf import settings
from django.core.management.base import CommandError
from django.db import DatabaseError
from django.utils.module_loading import import_string

from .crypt import SealBroken
from .home import home
from .keys import Halfway, StaysLocked, TooSoon, WrongSecret, keyring
from .models import same_typing
from .slots import (
    Kind,
    new_key_file,
    new_recovery_code,
    read_key_file,
    recovery_text,
    sync_folder,
    write_key_file,
)
from .travelling import SetEnded, is_over

TRIES = 3
SHORTEST = 15  # of a passphrase, in characters: as of a password that stands alone


def word(said: str) -> str:
    """A word of a command line (the type of an argument), refused where its bytes are no text."""
    if not said.isascii() and any("\ud800" <= sign <= "\udfff" for sign in said):
        raise argparse.ArgumentTypeError("this is no text in UTF-8")
    return said


def place(said: str) -> Path:
    """A file or folder named on a command line; refused is what no disk can hold."""
    if not said:
        raise argparse.ArgumentTypeError("say which file or folder")
    try:
        os.lstat(said)
    except (FileNotFoundError, NotADirectoryError):
        pass
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) else error
        raise argparse.ArgumentTypeError(f"{said[:60]} cannot be looked at: {why}") from error
    return Path(said)


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


# The handle of each home this process has open, by folder; held until the process ends.
_held: dict[Path, int] = {}


def share_home() -> None:
    """Say that this process uses the home, as others may too, but not while it is rekeyed."""
    _hold_home(fcntl.LOCK_SH, "The home is being rekeyed. Try again when that is done.")


def take_home() -> None:
    """Have the home alone. Raise CommandError while another process has it open."""
    _hold_home(fcntl.LOCK_EX, "Something else has the home open, such as serve. End it first.")


def take_new_home() -> None:
    """Have the folder alone in which a home is being made. Raise CommandError as `take_home`."""
    home().root.mkdir(mode=0o700, parents=True, exist_ok=True)
    _hold_home(fcntl.LOCK_EX, "Something else works in this folder. End it first.", is_new=True)


def _hold_home(how: int, refusal: str, *, is_new: bool = False) -> None:
    root = home().root
    if how == fcntl.LOCK_SH and root in _held:
        return
    if not is_new and not home().keys.is_file():
        raise CommandError(f"There is no home at {root} yet. Run: manage.py begin")
    if root not in _held:
        _held[root] = os.open(root / "home.lock", os.O_CREAT | os.O_RDWR, 0o600)
    try:
        fcntl.flock(_held[root], how | fcntl.LOCK_NB)
    except BlockingIOError as error:
        os.close(_held.pop(root))
        raise CommandError(refusal) from error


def open_home(*, typed: bool = False, halfway_too: bool = False, older_too: bool = False) -> None:
    """Open the home for a command: a rehearsal by itself, a real one by passphrase or code.

    The passphrase is typed or lies in a credential file, which systemd puts into a folder that
    $CREDENTIALS_DIRECTORY names; never in an argument or the environment, where other programs
    could read it. `typed`: somebody must type it, whatever lies there. `older_too`: its tables may
    be older than the site; `let_in` is still to be called then. Raise CommandError where there is
    no home, where three tries were wrong, or at once where the credential is.
    """
    guard_process()
    if not keyring.locked:
        return
    if not home().keys.is_file():
        raise CommandError(f"There is no home at {home().root} yet. Run: manage.py begin")
    share_home()
    try:
        if is_over():
            raise SetEnded
        if home().is_rehearsal:
            keyring.unlock_rehearsal()
        else:
            _unlock(None if typed else _credential(), halfway_too=halfway_too)
        # One that is rekeyed by half is let on by the end of that alone.
        if not (keyring.is_halfway or older_too):
            let_in()
    except Halfway as error:
        raise CommandError("A rekey was begun and not finished. Run: manage.py rekey") from error
    except (SealBroken, StaysLocked) as error:
        raise CommandError(f"The home stays locked: {error}.") from error


# One opening at a time, its end included.
doors = threading.Lock()


def let_in() -> None:
    """Do what is done at every opening, before anybody is let in and before a session is read.

    Each of settings.RELATIONS_ON_OPENING is called. Where one raises, the home is locked again;
    a database that does not answer is StaysLocked too.
    """
    try:
        for name in settings.RELATIONS_ON_OPENING:
            import_string(name)()
    except DatabaseError as error:
        keyring.lock()
        raise StaysLocked("the database does not answer as it should") from error
    except BaseException:
        keyring.lock()
        raise
    keyring.let_in()


def open_with(keys: Path) -> None:
    """Hold the keys of a key file that lies in another place than a home. As `open_home`."""
    guard_process()
    try:
        is_rehearsal = read_key_file(keys)["kind"] == "rehearsal"
    except (OSError, ValueError) as error:
        raise CommandError(f"{keys} is no key file of this version of the site.") from error
    try:
        if is_rehearsal:
            keyring.unlock_rehearsal(keys)
            return
        _unlock(None, halfway_too=False, at=keys)
    except Halfway as error:
        raise CommandError("This key file is from the middle of a rekey: take another.") from error
    except SealBroken as error:
        raise CommandError(f"The key file does not open: {error}.") from error
    except (LookupError, TypeError, ValueError) as error:
        raise CommandError(f"{keys} is damaged: take another copy of the key file.") from error


def _unlock(credential: str | None, *, halfway_too: bool, at: Path | None = None) -> None:
    if credential is not None:
        try:
            keyring.unlock(credential, halfway_too=halfway_too)
        except WrongSecret as error:
            raise CommandError("The home stays locked: the credential does not fit.") from error
        return
    for _ in range(TRIES):
        said = ask("Passphrase: ", hidden=True)
        try:
            _unlock_in_time(said, halfway_too=halfway_too, at=at)
        except WrongSecret:
            continue
        return
    raise CommandError("The home stays locked: the passphrase was wrong.")


def _credential() -> str | None:
    """What the credential file says, where there is one; only its owner may be able to read it."""
    folder = os.environ.get("CREDENTIALS_DIRECTORY", "")
    path = Path(folder) / "passphrase"
    if not folder or not path.is_file():
        return None
    if path.stat().st_mode & 0o077:
        raise CommandError("Others than its owner may read the credential. Make its mode 0400.")
    return path.read_text(encoding="utf-8").rstrip("\r\n")


def ask_passphrase(whose: str, *, may_be_empty: bool = False) -> str:
    """A new passphrase, typed twice; an empty one, where it may be, once.

    Raise CommandError where it is too short or the two differ; nothing was written by then.
    """
    said = ask(f"{whose}: ", hidden=True)
    if may_be_empty and not said:
        return ""
    if len(same_typing(said) or "") < SHORTEST:
        raise CommandError(f"The passphrase needs {SHORTEST} characters or more.")
    same(said, ask("The same again: ", hidden=True))
    return said


def same(first: str, second: str) -> None:
    """Raise CommandError where two typings differ."""
    if same_typing(first) != same_typing(second):
        raise CommandError("The two were not the same. Nothing was made; begin again.")


def show_recovery_code(write: Callable[[str], object]) -> str:
    """A new recovery code, shown once and typed back from paper before it counts."""
    code = new_recovery_code()
    write(
        f"\nRecovery code, shown this once:\n\n    {code}\n\n"
        "Write it on paper and keep it away from this machine. Without passphrase and code\n"
        "everything in the home is lost for good."
    )
    typed = recovery_text(ask("Type it from the paper: "))
    if not hmac.compare_digest(typed, recovery_text(code)):
        raise CommandError("That is not the code. Nothing was made; begin again.")
    return code


def _unlock_in_time(said: str, *, halfway_too: bool, at: Path | None) -> None:
    """Try a secret, after the wait that an earlier wrong one brought."""
    try:
        keyring.unlock(said, halfway_too=halfway_too, at=at)
    except TooSoon as error:
        time.sleep(error.seconds)
        keyring.unlock(said, halfway_too=halfway_too, at=at)


def make_home(kind: Kind, said: dict[str, str]) -> None:
    """Make the folder, a new master key wrapped under each secret in `said`, and hold the key.

    `said` is {"passphrase": …, "recovery": …} and perhaps "keeper" for a real home, {"open": …}
    for a rehearsal. Raise FileExistsError where a home is already.
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


def new_cookie_key() -> None:
    """Another key that signs cookies, whole or the old one; read when the site next starts."""
    path = home().root / "cookie.key"
    part = path.with_name(".part-cookie.key")
    part.unlink(missing_ok=True)
    _write_private(part, secrets.token_urlsafe(50))
    part.replace(path)
    sync_folder(path.parent)
