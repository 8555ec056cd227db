"""Serial numbers of papers: five digits drawn at random and two that find slips (F9)."""

import re
from collections.abc import Container
from dataclasses import dataclass
from random import Random

# A leading zero gets lost when read aloud, so numbers begin at 10000.
LOWEST, HIGHEST = 10_000, 99_999
DRAWS = 1_000
_SERIAL = re.compile(r"([0-9]{5})[-\u2010-\u2015\u2212]?([0-9]{2})")


class SerialError(ValueError):
    """A typed serial that cannot be one; `code` is "shape" or "mistyped"."""

    def __init__(self, code: str) -> None:
        """Keep the code; the page holds the words."""
        super().__init__(code)
        self.code = code


class NoSerialLeftError(RuntimeError):
    """No free serial was met in a thousand draws."""


@dataclass(frozen=True)
class Serial:
    """One serial: `number` (five digits) and its check digits."""

    number: str
    check: str

    def __str__(self) -> str:
        """Write it as printed: 70042-74."""
        return f"{self.number}-{self.check}"


def check(number: str) -> str:
    """Give the two check digits of a number written in ASCII digits: 98 - (100n mod 97).

    Source: ISO/IEC 7064 MOD 97-10 (the standard's text not opened; job.md F9; python-stdnum
    agrees that 794 has 44). Every wrong digit and every neighbour swap is found.
    """
    return f"{98 - 100 * int(number) % 97:02d}"


def new_serial(taken: Container[str], random: Random) -> str:
    """Draw a serial ("70042-74") that is not in `taken` (serials in the same shape).

    `random` is secrets.SystemRandom() outside tests; the number carries no meaning. Raises
    NoSerialLeftError after a thousand draws; there are 90,000 serials.
    """
    for _ in range(DRAWS):
        number = str(random.randint(LOWEST, HIGHEST))
        serial = str(Serial(number, check(number)))
        if serial not in taken:
            return serial
    raise NoSerialLeftError


def read_serial(text: str) -> Serial:
    """Read a typed serial; spaces anywhere and a missing hyphen are fine, digits are ASCII.

    Raises SerialError: "shape" if it is not five digits and two; "mistyped" if the check digits
    do not fit, which says that a digit is wrong, not that the paper is unknown.
    """
    match = _SERIAL.fullmatch("".join(text.split()))
    if match is None:
        raise SerialError("shape")
    serial = Serial(*match.groups())
    if serial.check != check(serial.number):
        raise SerialError("mistyped")
    return serial


class SerialConverter:
    """A serial in an address: five figures, a line and two figures, as on the paper."""

    regex = "[0-9]{5}-[0-9]{2}"

    def to_python(self, value: str) -> str:
        return value

    def to_url(self, value: str) -> str:
        return value
