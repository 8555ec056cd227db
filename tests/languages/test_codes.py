"""Codes of people: random, five characters, and a slip is called a slip."""

import itertools
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages.codes import (
    ALPHABET,
    NoCodeLeftError,
    check_character,
    is_well_formed,
    new_code,
    problem,
    tidy,
)

bodies = st.text(ALPHABET, min_size=4, max_size=4)


@pytest.mark.parametrize(
    ("body", "check"), [("ACDE", "9"), ("7K9M", "G"), ("34679", "V"), ("PR3NT", "X")]
)
def test_check_characters_worked_before(body: str, check: str) -> None:
    """Source: languages.md 5, worked by another program."""
    assert check_character(body) == check


@given(bodies, st.integers(0, 4), st.sampled_from(ALPHABET))
def test_one_wrong_character_is_always_found(body: str, place: int, wrong: str) -> None:
    code = body + check_character(body)
    typed = code[:place] + wrong + code[place + 1 :]
    assert problem(typed) == ("" if wrong == code[place] else "mistyped")


@given(bodies)
def test_every_swap_is_found(body: str) -> None:
    code = body + check_character(body)
    for one, two in itertools.combinations(range(5), 2):
        typed = list(code)
        typed[one], typed[two] = typed[two], typed[one]
        assert is_well_formed("".join(typed)) == (code[one] == code[two])


def test_every_twin_error_is_found() -> None:
    for body in ("33AC", "A33C", "AC33"):
        code = body + check_character(body)
        wrong = [code.replace("33", twin * 2) for twin in ALPHABET[1:]]
        assert {problem(typed) for typed in wrong} == {"mistyped"}


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("ACDE9", ""),
        (" acde-9 ", ""),
        ("AC DE9", ""),
        ("ACDE7", "mistyped"),
        ("ACDO9", "letter"),
        ("ACDE", "shape"),
        ("ACDE99", "shape"),
        ("", "shape"),
        ("K01", "shape"),
    ],
)
def test_what_is_wrong_with_a_typed_code(typed: str, code: str) -> None:
    assert problem(typed) == code


def test_a_typed_code_is_tidied() -> None:
    assert tidy(" ac-de 9\n") == "ACDE9"


@given(st.integers())
def test_new_codes_are_well_formed(seed: int) -> None:
    assert is_well_formed(new_code((), random.Random(seed)))


def test_new_code_is_never_one_that_is_taken() -> None:
    first = new_code((), random.Random(3))
    second = new_code({first}, random.Random(3))
    assert second != first


def test_when_all_codes_are_taken_it_says_so() -> None:
    class All:
        def __contains__(self, _code: object) -> bool:
            return True

    with pytest.raises(NoCodeLeftError):
        new_code(All(), random.Random(1))
