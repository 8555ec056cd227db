"""Codes of people and prints: random, and a slip of the hand is called one."""

import itertools
import random
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages.codes import (
    ALPHABET,
    LENGTH,
    PRINT_LENGTH,
    NoCodeLeftError,
    check_character,
    grouped,
    is_well_formed,
    meant,
    new_code,
    problem,
    strangers,
    tidy,
)

BASE = len(ALPHABET)
bodies = st.text(ALPHABET, min_size=4, max_size=4)
print_bodies = st.text(ALPHABET, min_size=5, max_size=5)


@cache
def every_code() -> tuple[np.ndarray, np.ndarray]:
    """All well-formed codes of five as rows of values; which of all 6,436,343 words is one."""
    places = BASE ** np.arange(LENGTH - 1, -1, -1)
    values = {character: value for value, character in enumerate(ALPHABET)}
    bodies = map("".join, itertools.product(ALPHABET, repeat=LENGTH - 1))
    codes = np.array([[values[one] for one in body + check_character(body)] for body in bodies])
    is_right = np.zeros(BASE**LENGTH, bool)
    is_right[codes @ places] = True
    return codes, is_right


def missed(changes: list[tuple[int, np.ndarray]]) -> tuple[int, int]:
    """How many wrong words were tried and how many of them pass for right.

    Each change: a place, counted from the left, and what every code has there instead.
    """
    codes, is_right = every_code()
    wrong = codes.copy()
    for place, value in changes:
        wrong[:, place] = value
    is_wrong = (wrong != codes).any(axis=1)
    tried = wrong[is_wrong] @ BASE ** np.arange(LENGTH - 1, -1, -1)
    return len(tried), int(is_right[tried].sum())


def told(tries: list[tuple[int, int]]) -> tuple[int, int]:
    tried, passed = zip(*tries, strict=True)
    return sum(tried), sum(passed)


def test_there_are_as_many_codes_of_five_as_bodies_of_four() -> None:
    codes, is_right = every_code()
    assert len(codes) == is_right.sum() == BASE**4 == 279_841


def test_no_wrong_character_passes_in_any_code_of_five() -> None:
    """All 30.8 million. Source of the count: languages.md 5."""
    codes, _ = every_code()
    tries = [
        missed([(place, (codes[:, place] + by) % BASE)])
        for place in range(LENGTH)
        for by in range(1, BASE)
    ]
    assert told(tries) == (30_782_510, 0)


def test_no_swap_at_any_distance_passes_in_any_code_of_five() -> None:
    """All 2.7 million. Source of the count: languages.md 5."""
    codes, _ = every_code()
    tries = [
        missed([(one, codes[:, two]), (two, codes[:, one])])
        for one, two in itertools.combinations(range(LENGTH), 2)
    ]
    assert told(tries) == (2_676_740, 0)


def test_no_twin_beside_each_other_or_one_apart_passes_in_any_code_of_five() -> None:
    """aa for bb and aXa for bXb, all 1.9 million. Source of the count: languages.md 5."""
    codes, _ = every_code()
    tries = []
    for one, two in itertools.combinations(range(LENGTH), 2):
        if two - one > 2:
            continue
        twins = codes[:, one] == codes[:, two]
        for by in range(1, BASE):
            other = np.where(twins, (codes[:, one] + by) % BASE, codes[:, one])
            tries.append(missed([(one, other), (two, np.where(twins, other, codes[:, two]))]))
    assert told(tries) == (1_873_718, 0)


@pytest.mark.long
def test_of_all_words_of_five_exactly_the_codes_are_well_formed() -> None:
    _, is_right = every_code()
    words = map("".join, itertools.product(ALPHABET, repeat=LENGTH))
    assert all(is_well_formed(word) == right for word, right in zip(words, is_right, strict=True))


def test_weights_of_up_to_twenty_two_places_differ_and_no_twin_of_them_is_nothing() -> None:
    """So that what was tried on five holds for six: 5 has all 22 powers modulo 23."""
    weights = [5**place % BASE for place in range(22)]
    assert sorted(weights) == list(range(1, 23))
    assert all((weights[one] + weights[one + far]) % BASE for far in (1, 2) for one in range(20))


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


@given(print_bodies, st.integers(0, 5), st.sampled_from(ALPHABET))
def test_one_wrong_character_of_a_print_is_always_found(body: str, place: int, wrong: str) -> None:
    code = body + check_character(body)
    typed = code[:place] + wrong + code[place + 1 :]
    assert problem(typed, PRINT_LENGTH) == ("" if wrong == code[place] else "mistyped")


@given(st.one_of(bodies, print_bodies))
def test_every_swap_is_found(body: str) -> None:
    code = body + check_character(body)
    for one, two in itertools.combinations(range(len(code)), 2):
        typed = list(code)
        typed[one], typed[two] = typed[two], typed[one]
        assert is_well_formed("".join(typed), len(code)) == (code[one] == code[two])


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


@pytest.mark.parametrize(
    ("typed", "code"),
    [("acd efx", ""), ("ACDE9", "shape"), ("ACOEFX", "letter"), ("ACDEFY", "mistyped")],
)
def test_what_is_wrong_with_a_typed_code_of_a_print(typed: str, code: str) -> None:
    """By hand: 5·3125 + 6·625 + 7·125 + 8·25 + 9·5 = 20495 = 891·23 + 2, and 21 is X."""
    assert problem(typed, PRINT_LENGTH) == code


@given(print_bodies, st.integers(0, 5), st.sampled_from("0O1ILQ2Z5S8BUÉ?"))
def test_look_alike_is_named_with_the_only_code_it_can_stand_for(
    body: str, place: int, wrong: str
) -> None:
    code = body + check_character(body)
    typed = code[:place] + wrong + code[place + 1 :]
    assert strangers(typed) == wrong
    assert meant(typed) == code


@pytest.mark.parametrize("typed", ["ACDEFX", "OCOEFX", ""])
def test_nothing_is_meant_by_a_code_without_a_look_alike_or_with_two(typed: str) -> None:
    assert meant(typed) == ""


def test_look_alikes_are_named_once_each_in_their_order() -> None:
    assert strangers("so 0-OaS") == "SO0"
    assert strangers("ACDEFX") == ""


def test_code_of_a_print_is_read_aloud_in_two_parts() -> None:
    assert (grouped("ACDEFX"), grouped("")) == ("ACD EFX", "")


def test_a_typed_code_is_tidied() -> None:
    assert tidy(" ac-de 9\n") == "ACDE9"


@given(st.integers(), st.sampled_from([LENGTH, PRINT_LENGTH]))
def test_new_codes_are_well_formed(seed: int, length: int) -> None:
    assert is_well_formed(new_code((), random.Random(seed), length), length)


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
