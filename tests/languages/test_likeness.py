"""Which names are like a typed one: by sounds, spelling, order, and words written together."""

import json
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages.likeness import WORDS, Known, ratio, sounds, words

PAIRS = json.loads((Path(__file__).parent.parent / "cases" / "names.json").read_text("utf-8"))


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("binod", "vinod"),
        ("rachid", "rashid"),
        ("djamila", "jamila"),
        ("aziz", "ajij"),
        ("khrushchov", "khrushchyov"),
        ("laxmi", "lakshmi"),
        ("philip", "filip"),
        ("sarah", "sara"),
        ("aicha", "eisha"),
        ("mohammed", "muhamad"),
        ("katherine", "catherine"),
    ],
)
def test_spellings_of_one_name_sound_alike(one: str, other: str) -> None:
    assert sounds(one) == sounds(other)


@pytest.mark.parametrize(("one", "other"), [("sita", "gita"), ("ram", "rai"), ("li", "ni")])
def test_other_names_sound_otherwise(one: str, other: str) -> None:
    assert sounds(one) != sounds(other)


def test_an_h_between_vowels_that_are_not_written_is_kept() -> None:
    assert sounds("mhmd", is_bare=True) == sounds("muhammad") == "mhmd"


def longest_common(one: str, other: str) -> int:
    """By trying every choice of letters, the longest first."""
    for size in range(min(len(one), len(other)), 0, -1):
        chosen = {"".join(letters) for letters in combinations(one, size)}
        if chosen & {"".join(letters) for letters in combinations(other, size)}:
            return size
    return 0


@given(st.text("abc", min_size=1, max_size=7), st.text("abc", min_size=1, max_size=7))
def test_the_ratio_is_that_of_the_longest_common_letters(one: str, other: str) -> None:
    expected = 2 * longest_common(one, other) / (len(one) + len(other))
    assert ratio(one, other) == pytest.approx(expected)


def test_particles_say_nothing_unless_they_are_all() -> None:
    assert [[word.spelt for word in reading] for reading in words("Fatima al-Zahra")] == [
        ["fatima", "zahra"]
    ]
    assert [[word.spelt for word in reading] for reading in words("Al")] == [["al"]]
    assert words("…") == []


def found(names: list[str], typed: str, **rest: float) -> list[str]:
    return [name for name, _ in Known((name, name) for name in names).like(typed, **rest)]


def test_the_same_spelling_comes_first_and_what_says_more_after_it() -> None:
    names = ["Sita Gurung Lamichhane", "Gita Gurung", "Sita Gurung", "सीता गुरुङ"]
    assert found(names, "Sita Gurung")[:2] == ["Sita Gurung", "सीता गुरुङ"]
    assert found(names, "Sita Gurung")[2] == "Sita Gurung Lamichhane"


def test_the_order_of_words_is_free() -> None:
    assert found(["Sita Devi Gurung", "Devi Lama"], "gurung sita devi")[0] == "Sita Devi Gurung"


def test_words_written_together_meet_those_written_apart() -> None:
    assert found(["Dil Maya Sherpa", "Maya Lama"], "Dilmaya Sherpa")[0] == "Dil Maya Sherpa"
    assert found(["Dilmaya Sherpa", "Maya Lama"], "Dil Maya Sherpa")[0] == "Dilmaya Sherpa"
    assert found(["Abdelrahman", "Salem"], "Abdel Rahman") == ["Abdelrahman"]
    assert found(["Minh Thu An", "Salem"], "Minhthuan") == ["Minh Thu An"]


def test_either_reading_of_a_letter_is_found() -> None:
    assert found(["رضا", "داود"], "Reza") == ["رضا"]
    assert found(["رضا", "داود"], "Rida")[0] == "رضا"
    assert found(["דוד לוי"], "David Levi") == ["דוד לוי"]


def test_one_person_of_many_names_is_found_once() -> None:
    known = Known([(1, "Sita"), (1, "सीता"), (2, "Gita")])
    keys = [key for key, _ in known.like("Sita")]
    assert keys[0] == 1
    assert keys.count(1) == 1
    assert len(known) == 3


def test_no_more_are_given_than_asked_for_and_none_less_like() -> None:
    names = [f"Sita {family}" for family in ("Rai", "Lama", "Thapa", "Magar")]
    assert len(found(names, "Sita", limit=2)) == 2
    assert found(names, "Sita Thapa", least=0.95) == ["Sita Thapa"]


@pytest.mark.parametrize("typed", ["", "…", "‎", "123456789"])
def test_what_is_no_name_is_like_nobody(typed: str) -> None:
    assert found(["Sita Gurung", "王小明"], typed) == []


def test_a_likeness_is_never_above_one_or_below_the_least() -> None:
    known = Known((pair["stored"], pair["stored"]) for pair in PAIRS)
    for pair in PAIRS:
        scores = [score for _, score in known.like(pair["typed"])]
        assert scores == sorted(scores, reverse=True)
        assert all(0.55 <= score <= 1 for score in scores)


def test_the_pairs_of_names_are_found_among_one_another() -> None:
    """Among ten thousand others: tests/bench/test_search.py."""
    known = Known((pair["stored"], pair["stored"]) for pair in PAIRS)
    lost = [
        pair["typed"]
        for pair in PAIRS
        if pair["stored"] not in [name for name, _ in known.like(pair["typed"], 5)]
    ]
    assert not lost


@given(st.text(max_size=30))
def test_whatever_is_typed_has_an_answer(typed: str) -> None:
    assert isinstance(found(["Sita Gurung", "فاطمة", "김민지"], typed), list)


def test_text_without_measure_is_compared_by_its_beginning():
    """Else forty thousand words of one letter keep a page busy for minutes."""
    assert all(len(reading) <= WORDS for reading in words("a " * 40_000))
    known = Known([(1, "Asha"), (2, "Teresa")])
    assert [key for key, _ in known.like("Asha " * 400_000)] == [1]
