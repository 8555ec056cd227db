"""Serials of papers: a slip is said to be a slip."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.documents.serials import (
    NoSerialLeftError,
    Serial,
    SerialError,
    check,
    new_serial,
    read_serial,
)

numbers = st.integers(0, 99_999).map("{:05d}".format)


@pytest.mark.parametrize(
    "typed",
    [
        "70042-74",
        "7004274",
        " 70042 - 74 ",
        "700 42 74",
        "70042\u201174",
        "70042\u201374",
        "70042\u221274",
    ],
)
def test_a_serial_is_read_however_it_is_spaced(typed: str) -> None:
    assert read_serial(typed) == Serial("70042", "74")


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "70042",
        "70042-7",
        "70042-744",
        "7004-274",
        "70042--74",
        "7OO42-74",
        "٧٠٠٤٢-٧٤",
        "70042/74",
    ],
)
def test_what_has_not_the_shape_is_said_so(typed: str) -> None:
    with pytest.raises(SerialError) as refusal:
        read_serial(typed)
    assert refusal.value.code == "shape"


@pytest.mark.parametrize("typed", ["70043-74", "70024-74", "70042-47", "70042-75", "17042-74"])
def test_a_wrong_digit_is_mistyped_and_not_missing(typed: str) -> None:
    with pytest.raises(SerialError) as refusal:
        read_serial(typed)
    assert refusal.value.code == "mistyped"


@given(numbers)
def test_every_number_reads_back_with_its_check(number: str) -> None:
    serial = Serial(number, check(number))
    assert read_serial(str(serial)) == serial
    assert int(number + serial.check) % 97 == 1


def test_check_digits_that_only_leave_the_same_rest_are_not_taken() -> None:
    """98 and 01 leave the same rest; only one of them is ever printed."""
    number = next(f"{n:05d}" for n in range(10_000, 10_100) if check(str(n)) == "98")
    with pytest.raises(SerialError, match="mistyped"):
        read_serial(f"{number}-01")


@given(st.integers())
def test_new_serials_read_back(seed: int) -> None:
    serial = new_serial((), random.Random(seed))
    assert str(read_serial(serial)) == serial
    assert serial[0] != "0"


def test_numbers_are_drawn_from_10000_to_99999() -> None:
    class Edge(random.Random):
        """Draw the lowest and remember between what."""

        drawn: tuple[int, int] | None = None

        def randint(self, low: int, high: int) -> int:
            self.drawn = (low, high)
            return low

    chance = Edge()
    assert new_serial((), chance) == f"10000-{check('10000')}"
    assert chance.drawn == (10_000, 99_999)


def test_new_serial_is_never_one_that_is_taken() -> None:
    first = new_serial((), random.Random(5))
    assert new_serial({first}, random.Random(5)) != first


def test_when_all_serials_are_taken_it_says_so() -> None:
    class All:
        def __contains__(self, _serial: object) -> bool:
            return True

    with pytest.raises(NoSerialLeftError):
        new_serial(All(), random.Random(1))
