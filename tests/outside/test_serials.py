"""Serials against ISO/IEC 7064 MOD 97-10 and against every slip of one digit or neighbour.

The standard's own text was not opened. Sources of the values: job.md F9 and 6 (worked by another
program), and python-stdnum's 794 -> 44 as noted in languages.md 5.
"""

import random

import pytest

from relations.documents.serials import SerialError, check, read_serial

PRINTED = [
    "10003-62",
    "20011-11",
    "40009-60",
    "50017-09",
    "60021-67",
    "60022-64",
    "60023-61",
    "60024-58",
    "70001-03",
    "70020-43",
    "70042-74",
]


@pytest.mark.parametrize("serial", PRINTED)
def test_serials_worked_before_are_ours(serial: str) -> None:
    number, digits = serial.split("-")
    assert check(number) == digits
    assert str(read_serial(serial)) == serial


def test_check_digits_equal_those_of_another_package() -> None:
    assert check("794") == "44"


def slips(serial: str) -> set[str]:
    """Make every single wrong digit and every swap of two neighbours of seven digits."""
    wrong = {
        serial[:place] + digit + serial[place + 1 :]
        for place in range(len(serial))
        for digit in "0123456789"
    }
    swapped = {
        serial[:place] + serial[place + 1] + serial[place] + serial[place + 2 :]
        for place in range(len(serial) - 1)
    }
    return (wrong | swapped) - {serial}


def test_no_single_digit_and_no_swap_is_missed() -> None:
    chance = random.Random(7064)
    numbers = {f"{chance.randrange(100_000):05d}" for _ in range(1_000)}
    tried = 0
    for number in numbers:
        for typed in slips(number + check(number)):
            with pytest.raises(SerialError, match="mistyped"):
                read_serial(typed)
            tried += 1
    assert tried > 65 * len(numbers)
