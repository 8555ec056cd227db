"""A travelling set: a home with one trip's people only, read only, which ends by its day.

Its key file says in clear until which day it holds, and every slot is sealed to that. From the day
after, whoever comes to its door, with the passphrase or without, finds the slot of the passphrase
wiped; what is left is opened by the register it was made in alone, which so still gets what was
written in it. What no set off line can know is the right day: until it was once looked at after its
last day, somebody who has a copy of it, its passphrase and a clock that is put back opens the copy.
A clock put back before the last line of the set's own log opens nothing.
"""

import contextlib

from django.utils import timezone

from . import clock
from .home import home
from .keys import StaysLocked
from .slots import changing_key_file, write_key_file

HOME = "home"  # the slot that only the register of the set opens


class SetEnded(StaysLocked):
    """The last day of the set is over."""

    code = "set_ended"

    def __init__(self) -> None:
        super().__init__("this travelling set is over, and opens no more")


class SetClockBehind(StaysLocked):
    """The clock is before what the set has seen already."""

    code = "set_clock"

    def __init__(self) -> None:
        super().__init__("the clock of this computer is behind the last entry of the set")


def is_over() -> bool:
    """Whether this home is a set whose last day is over; if so, nothing typed opens it any more.

    By the computer's own clock and the zone of the site, never by the day that lists stand on.
    """
    said = home().travelling
    if said is None or timezone.localdate() <= said.until:
        return False
    with contextlib.suppress(OSError):  # a disk that takes no writing: it stays shut all the same
        end()
    return True


def end() -> None:
    """Wipe the slots that a person can open; a second time changes nothing."""
    with changing_key_file(home().keys) as kept:
        left = [slot for slot in kept["slots"] if slot["name"] == HOME]
        if left != kept["slots"]:
            write_key_file(home().keys, {**kept, "slots": left})


def stand() -> None:
    """Raise at the opening of a set that is over, or whose clock is put back; homes pass."""
    if home().travelling is None:
        return
    if is_over():
        raise SetEnded
    last = clock.last_known()
    if last is not None and timezone.now() < last - clock.TOLERANCE:
        raise SetClockBehind
