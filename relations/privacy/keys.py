"""The keyring: holds the master key while the site is open, and gives one subkey per purpose."""

import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from .crypt import SealBroken, expand
from .home import home
from .slots import make_slot, open_slot, read_key_file, with_slot, write_key_file

PURPOSES = frozenset({"database", "field", "mark", "file", "log"})
LONGEST_WAIT = 30.0


class Locked(RuntimeError):  # noqa: N818 - a state of the site, not a mistake
    """The home is locked: no key is held."""


class WrongSecret(ValueError):  # noqa: N818 - a person's slip, answered calmly
    """No slot of the key file opens with what was typed."""


class TakenSecret(ValueError):  # noqa: N818 - a person's slip, answered calmly
    """A new secret is already that of another slot."""


class TooSoon(ValueError):  # noqa: N818 - a person's slip, answered calmly
    """A secret was tried before the wait after the last wrong one was over."""

    def __init__(self, seconds: float) -> None:
        super().__init__(f"wait {seconds:.0f} s")
        self.seconds = seconds


def _fitting(kept: dict[str, Any], secret: str) -> tuple[str, bytes] | None:
    """Name of the slot that opens with this secret, and the master key in it."""
    for slot in kept["slots"]:
        if slot["name"] == "open":
            continue
        try:
            return str(slot["name"]), open_slot(slot, secret, kept["kind"])
        except SealBroken:
            continue
    return None


class Keyring:
    """Holds the master key while the site is open; one try at a time, slower after each failure."""

    def __init__(self, path: Callable[[], Path]) -> None:
        self._path = path
        self._mutex = threading.Lock()
        self._master: bytearray | None = None
        self._subkeys: dict[str, bytes] = {}
        self._failures = 0
        self._not_before = 0.0
        # Every connection and cache made under an older generation must be dropped.
        self.generation = 0

    @property
    def locked(self) -> bool:
        return self._master is None

    def subkey(self, purpose: str) -> bytes:
        """32 bytes for one purpose. Raise Locked when no key is held."""
        known = self._subkeys.get(purpose)
        if known is not None:
            return known
        if purpose not in PURPOSES:
            raise ValueError(f"no such purpose: {purpose}")
        with self._mutex:
            if self._master is None:
                raise Locked("the home is locked")
            return self._subkeys.setdefault(
                purpose, expand(bytes(self._master), b"relations " + purpose.encode())
            )

    def unlock(self, secret: str) -> str:
        """Open with a passphrase or recovery code; return the name of the slot it fitted.

        Raise WrongSecret when none does, TooSoon when a wait is still running; after the n-th
        failure in a row the wait is a quarter of 2^n seconds, at most 30.
        """
        with self._mutex:
            wait = self._not_before - time.monotonic()
            if wait > 0:
                raise TooSoon(wait)
            if found := _fitting(read_key_file(self._path()), secret):
                name, master = found
                self._hold(master)
                return name
            self._failures += 1
            self._not_before = time.monotonic() + min(LONGEST_WAIT, 2.0**self._failures / 4)
            raise WrongSecret("no slot opens with this")

    def unlock_rehearsal(self) -> None:
        """Open a rehearsal by the secret that lies in its own slot; refuse any other home."""
        kept = read_key_file(self._path())
        if kept["kind"] != "rehearsal":
            raise WrongSecret("only the keys of a rehearsal open themselves")
        slot = next(slot for slot in kept["slots"] if slot["name"] == "open")
        with self._mutex:
            self._hold(open_slot(slot, slot["secret"], kept["kind"]))

    def rewrap(self, name: str, secret: str) -> None:
        """Put the master key that is held into the slot `name` under a new secret.

        Raise TakenSecret when the secret opens a slot of another name already: whose it is would
        not be known any more. A copy of the older key file still opens as it did.
        """
        with self._mutex:
            if self._master is None:
                raise Locked("the home is locked")
            kept = read_key_file(self._path())
            found = _fitting(kept, secret)
            if found and found[0] != name:
                raise TakenSecret("another slot opens with this")
            slot = make_slot(name, secret, bytes(self._master), kept["kind"])
            write_key_file(self._path(), with_slot(kept, slot))

    def hold(self, master: bytes) -> None:
        """Open with the master key itself, as tests and the making of a home do."""
        with self._mutex:
            self._hold(master)

    def _hold(self, master: bytes) -> None:
        if len(master) != 32:
            raise ValueError("a master key has 32 bytes")
        self._master = bytearray(master)
        self._subkeys = {}
        self._failures = 0
        self._not_before = 0.0
        self.generation += 1

    def lock(self) -> None:
        """Let the key go. Copies may stay in freed memory; only ending the process clears those."""
        with self._mutex:
            if self._master is not None:
                self._master[:] = bytes(len(self._master))
            self._master = None
            self._subkeys = {}
            self.generation += 1


keyring = Keyring(lambda: home().keys)
