"""The keys of backups, one a month: kept in the key file, and destroyed when their time is over.

A backup is sealed under the key of its month, and that key lies in the key file only, wrapped under
the master. Once it is destroyed there and in the copy beside the backups, no copy of those backups
opens any more, wherever it lies: what was erased from the register leaves its backups so. It lies
in the key file and not in one of its own, so that one small file opens home and backups alike, a
new passphrase touches nothing of it, and a rekey wraps all of it anew in its one first step.

A month has one key, and one more after each rekey: whoever holds a copy of the key file from before
opens the backups from before, and no later one.
"""

import base64
import calendar
import secrets
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from .crypt import SealBroken, expand, unwrap, wrap

KEPT = timedelta(days=90)  # of a backup, and so of the key of its month after the month's last day
Kept = dict[str, Any]  # the content of a key file


class NoMonthKey(LookupError):  # noqa: N818 - read as a sentence where it is raised
    """The key file has no such key of a month; `was_destroyed`: it had, and let it go."""

    def __init__(self, number: int, *, was_destroyed: bool) -> None:
        super().__init__(f"no key {number} of a month")
        self.was_destroyed = was_destroyed


@dataclass(frozen=True)
class MonthKey:
    """The key of backups made in one month ("2026-11"), by its number, which is never reused."""

    number: int
    month: str
    key: bytes


def of_month(kept: Kept, master: bytes, key_id: int, on: date) -> tuple[MonthKey, Kept]:
    """The key of the month of `on`, and the key file with it: the same where it was there.

    `key_id`: the number of the master key. Raise SealBroken where the key there does not open.
    """
    month = f"{on:%Y-%m}"
    for slot in _slots(kept):
        if (slot["month"], slot["since"]) == (month, key_id):
            return _opened(slot, master), kept
    made = kept.get("months", {}).get("made", 0) + 1
    new = MonthKey(made, month, secrets.token_bytes(32))
    slots = [*_slots(kept), _slot(new, key_id, master)]
    return new, {**kept, "months": {"made": made, "keys": slots}}


def numbered(kept: Kept, master: bytes, number: int) -> MonthKey:
    """The key of this number. Raise NoMonthKey where there is none, SealBroken where changed."""
    for slot in _slots(kept):
        if slot["number"] == number:
            return _opened(slot, master)
    raise NoMonthKey(number, was_destroyed=0 < number <= kept.get("months", {}).get("made", 0))


def rewrapped(kept: Kept, before: bytes, master: bytes) -> Kept:
    """The key file with every key of a month, wrapped under `before` so far, under `master`."""
    slots = [_slot(_opened(slot, before), slot["since"], master) for slot in _slots(kept)]
    return {**kept, "months": {**kept["months"], "keys": slots}} if slots else kept


def without_old(kept: Kept, on: date) -> tuple[list[str], Kept]:
    """The months whose keys are to go on that day, and the key file without these keys."""
    old = [slot for slot in _slots(kept) if on > last_day(slot["month"]) + KEPT]
    if not old:
        return [], kept
    stay = [slot for slot in _slots(kept) if slot not in old]
    months = sorted({str(slot["month"]) for slot in old})
    return months, {**kept, "months": {**kept["months"], "keys": stay}}


def months(kept: Kept) -> list[str]:
    """The months of which the key file has a key, as "2026-11", each once."""
    return sorted({str(slot["month"]) for slot in _slots(kept)})


def last_day(month: str) -> date:
    """The last day on which a backup of the month "2026-11" can have been made."""
    year, number = (int(part) for part in month.split("-"))
    return date(year, number, calendar.monthrange(year, number)[1])


def _slots(kept: Kept) -> list[dict[str, Any]]:
    return list(kept.get("months", {}).get("keys", ()))


def _slot(key: MonthKey, since: int, master: bytes) -> dict[str, Any]:
    """A key as the key file has it. `since`: the number of the master key it was made under."""
    nonce = secrets.token_bytes(12)
    bound = _bound(key.number, key.month, since)
    sealed = wrap(_under(master), nonce, key.key, bound)
    head = {"number": key.number, "month": key.month, "since": since}
    return {**head, "nonce": _text(nonce), "wrapped": _text(sealed)}


def _opened(slot: dict[str, Any], master: bytes) -> MonthKey:
    try:
        nonce, sealed = (base64.b64decode(slot[part]) for part in ("nonce", "wrapped"))
    except ValueError as error:
        raise SealBroken("the key of a month is damaged") from error
    bound = _bound(slot["number"], slot["month"], slot["since"])
    return MonthKey(slot["number"], slot["month"], unwrap(_under(master), nonce, sealed, bound))


def _under(master: bytes) -> bytes:
    return expand(master, b"relations month")


def _bound(number: int, month: str, since: int) -> bytes:
    return f"month {number} {month} {since}".encode()


def _text(data: bytes) -> str:
    return base64.b64encode(data).decode()
