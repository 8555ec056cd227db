"""The keyring: holds the master key while the site is open, and gives one subkey per purpose."""

import secrets
import threading
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from . import carried as carrying
from . import month_keys
from .carried import Carried
from .crypt import SealBroken, expand
from .home import home
from .slots import (
    changing_key_file,
    make_slot,
    open_slot,
    read_key_file,
    sort_of,
    with_slot,
    write_key_file,
)

PURPOSES = frozenset({"database", "field", "mark", "file", "log", "ledger"})
LONGEST_WAIT = 30.0


class Locked(RuntimeError):  # noqa: N818 - a state of the site, not a mistake
    """The home is locked: no key is held."""


class WrongSecret(ValueError):  # noqa: N818 - a person's slip, answered calmly
    """No slot of the key file opens with what was typed."""


class TakenSecret(ValueError):  # noqa: N818 - a person's slip, answered calmly
    """A new secret is already that of another slot."""


class Halfway(RuntimeError):  # noqa: N818 - a state of the site, not a mistake
    """A rekey was begun and not finished: the home opens for that alone."""


class StaysLocked(RuntimeError):  # noqa: N818 - a state of the site, not a mistake
    """What is done at every opening found why nobody may be let in; `code` says to a page what."""

    code = "opening"


class TooSoon(ValueError):  # noqa: N818 - a person's slip, answered calmly
    """A secret was tried before the wait after the last wrong one was over."""

    def __init__(self, seconds: float) -> None:
        super().__init__(f"wait {seconds:.0f} s")
        self.seconds = seconds


def _fitting(kept: dict[str, Any], secret: str) -> tuple[dict[str, Any], bytes] | None:
    """The slot that opens with this secret, and the master key in it."""
    for slot in kept["slots"]:
        if slot["name"] == "open":
            continue
        try:
            return slot, open_slot(slot, secret, sort_of(kept))
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
        self._carried = Carried()
        # How many master keys the home has had, this one counted: what a token says it is under.
        self.key_id = 1
        self._failures = 0
        self._not_before = 0.0
        # Every connection and cache made under an older generation must be dropped.
        self.generation = 0
        self._let_in = -1

    @property
    def locked(self) -> bool:
        return self._master is None

    @property
    def is_open(self) -> bool:
        """Whether the key is held and what is done at every opening was done under it."""
        return not self.locked and self._let_in == self.generation

    def let_in(self) -> None:
        """Everything was done that is done before anybody is let in."""
        with self._mutex:
            self._let_in = self.generation

    def subkey(self, purpose: str) -> bytes:
        """32 bytes for one purpose. Raise Locked when no key is held."""
        known = self._subkeys.get(purpose)
        if known is not None:
            return known
        if purpose not in PURPOSES:
            raise ValueError(f"no such purpose: {purpose}")
        with self._mutex:
            return self._subkeys.setdefault(
                purpose, expand(self._held(), b"relations " + purpose.encode())
            )

    def former_subkey(self, purpose: str) -> bytes:
        """The subkey of the master before, which only an unfinished rekey still knows."""
        if self._carried.former is None:
            raise Locked("no rekey is going on")
        return expand(self._carried.former, b"relations " + purpose.encode())

    @property
    def is_halfway(self) -> bool:
        """Whether a rekey was begun and is not finished."""
        return self._carried.former is not None

    def mark_keys(self) -> list[bytes]:
        """The key of marks, and those of earlier masters, newest first."""
        return [self.subkey("mark"), *self._carried.marks]

    def log_key(self, seq: int) -> bytes:
        """The key of line `seq` of the access log: lines from before a rekey keep theirs."""
        return self._carried.log_key(seq, self.subkey("log"))

    @property
    def former_id(self) -> int:
        """The number of that master."""
        return self._carried.former_id or self.key_id - 1

    def unlock(self, secret: str, *, halfway_too: bool = False, at: Path | None = None) -> str:
        """Open with a passphrase or recovery code; return the name of the slot it fitted.

        `at`: a key file in another place than the home's own.

        Raise WrongSecret when none does, TooSoon when a wait is still running; after the n-th
        failure in a row the wait is a quarter of 2^n seconds, at most 30. Raise Halfway when a
        rekey waits to be finished, unless `halfway_too`; SealBroken when the key file is damaged.
        """
        with self._mutex:
            wait = self._not_before - time.monotonic()
            if wait > 0:
                raise TooSoon(wait)
            kept = read_key_file(at or self._path())
            if found := _fitting(kept, secret):
                slot, master = found
                key_id = slot.get("key_id", 1)
                carried = carrying.unseal(kept, master, key_id)
                if carried.former is not None and not halfway_too:
                    raise Halfway("a rekey was begun and is not finished")
                self._hold(master, key_id, carried)
                return str(slot["name"])
            self._failures += 1
            self._not_before = time.monotonic() + min(LONGEST_WAIT, 2.0**self._failures / 4)
            raise WrongSecret("no slot opens with this")

    def unlock_rehearsal(self, at: Path | None = None) -> None:
        """Open a rehearsal by the secret that lies in its own slot; refuse any other home."""
        kept = read_key_file(at or self._path())
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
            master = self._held()
            with changing_key_file(self._path()) as kept:
                found = _fitting(kept, secret)
                if found and found[0]["name"] != name:
                    raise TakenSecret("another slot opens with this")
                slot = make_slot(name, secret, master, sort_of(kept), key_id=self.key_id)
                write_key_file(self._path(), with_slot(kept, slot))

    def month_key(self, on: date) -> month_keys.MonthKey:
        """The key of backups made in the month of `on`; a new one is on the disk first."""
        with self._mutex:
            master = self._held()
            with changing_key_file(self._path()) as kept:
                key, new = month_keys.of_month(kept, master, self.key_id, on)
                if new is not kept:
                    write_key_file(self._path(), new)
            return key

    def month_key_numbered(self, number: int, at: Path | None = None) -> month_keys.MonthKey:
        """The key under which a backup says that it is. Raise NoMonthKey, SealBroken."""
        with self._mutex:
            return month_keys.numbered(read_key_file(at or self._path()), self._held(), number)

    def destroy_month_keys(self, on: date) -> list[str]:
        """Let the keys go of months of which every backup is too old; return those months."""
        with self._mutex, changing_key_file(self._path()) as kept:
            months, new = month_keys.without_old(kept, on)
            if months:
                write_key_file(self._path(), new)
            return months

    def bring_home(self, kept: dict[str, Any], former: bytes, former_id: int) -> None:
        """Make `kept`, opened in another place, the key file of the home.

        Where its rows are under an earlier master, `former`, it is halfway through a rekey.
        """
        with self._mutex:
            master = self._held()
            if former_id != self.key_id:
                self._carried = replace(self._carried, former=former, former_id=former_id)
                kept = {**kept, "carried": carrying.seal(self._carried, master, self.key_id)}
            write_key_file(self._path(), kept)

    def master_to_seal(self) -> bytes:
        """The master key, for a backup alone to hold: after a rekey it is what opens its rows."""
        with self._mutex:
            return self._held()

    def _held(self) -> bytes:
        if self._master is None:
            raise Locked("the home is locked")
        return bytes(self._master)

    def begin_rekey(self, secrets_by_slot: dict[str, str], last_line: int) -> None:
        """Put a new master key into the key file, in new slots, and hold it.

        `last_line` of the access log is the last under the key of now. Until `end_rekey` the key
        file holds the master of now too, sealed under the new one; slots not named are gone.
        """
        before, carried = self._master, self._carried
        if before is None or carried.former is not None:
            raise Locked("the home is locked, or a rekey is going on")
        carried = Carried(
            marks=(self.subkey("mark"), *carried.marks),
            logs=((last_line, self.subkey("log")), *carried.logs),
            former=bytes(before),
        )
        master, key_id = secrets.token_bytes(32), self.key_id + 1
        with self._mutex:
            kept = month_keys.rewrapped(read_key_file(self._path()), bytes(before), master)
            slots = [
                make_slot(name, said, master, sort_of(kept), key_id=key_id)
                for name, said in secrets_by_slot.items()
            ]
            sealed = carrying.seal(carried, master, key_id)
            write_key_file(self._path(), {**kept, "slots": slots, "carried": sealed})
            self._hold(master, key_id, carried)

    def end_rekey(self) -> None:
        """Let the master before go: everything is under the new one."""
        with self._mutex:
            master = self._held()
            carried = replace(self._carried, former=None, former_id=None)
            sealed = carrying.seal(carried, master, self.key_id)
            kept = read_key_file(self._path())
            write_key_file(self._path(), {**kept, "carried": sealed})
            self._carried = carried

    def hold(self, master: bytes) -> None:
        """Open with the master key itself, as tests and the making of a home do."""
        with self._mutex:
            self._hold(master)
            # A home that is just made is behind nothing.
            self._let_in = self.generation

    def _hold(self, master: bytes, key_id: int = 1, carried: Carried | None = None) -> None:
        if len(master) != 32:
            raise ValueError("a master key has 32 bytes")
        self._master = bytearray(master)
        self._subkeys = {}
        self.key_id, self._carried = key_id, carried or Carried()
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
            self._carried = Carried()
            self.generation += 1


keyring = Keyring(lambda: home().keys)
