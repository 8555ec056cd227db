"""Which way a language runs, and which characters nobody sees."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages.direction import (
    JOINERS,
    direction,
    hidden_characters,
    isolated,
    runs,
    strip_marks,
)


@pytest.mark.parametrize(
    "lang", ["ar", "ar-SY", "fa", "ur", "ps", "he", "AR", "pa-Arab", "ku_Arab_IQ"]
)
def test_languages_written_from_the_right(lang: str) -> None:
    assert direction(lang) == "rtl"


@pytest.mark.parametrize("lang", ["fr", "en-GB", "ne", "bn", "es-419", "ar-Latn", "", "xx"])
def test_languages_written_from_the_left(lang: str) -> None:
    assert direction(lang) == "ltr"


def test_hidden_characters_are_named_once_in_order() -> None:
    assert hidden_characters("a\u202eb\u200fc\u202e\x07") == ["U+202E", "U+200F", "U+0007"]


def test_joiners_are_spelling() -> None:
    assert hidden_characters("र\u094d\u200dय می\u200cروم") == []
    assert strip_marks("र\u094d\u200dय") == "र\u094d\u200dय"


def test_signs_that_are_seen_are_not_hidden() -> None:
    assert hidden_characters("\u06dd\u0660") == []


def test_line_breaks_are_hidden_in_one_line_only() -> None:
    assert hidden_characters("a\nb\tc") == ["U+000A", "U+0009"]
    assert hidden_characters("a\r\nb\tc\u200e", lines=True) == ["U+200E"]


def test_direction_marks_are_stripped() -> None:
    marks = "\u200e\u200f\u061c\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff\x00"
    assert strip_marks(f"{marks}Awa{marks}") == "Awa"


def test_words_keep_their_own_direction_beside_others() -> None:
    assert isolated("سعاد") == "\u2068سعاد\u2069"
    assert isolated("9 Mangsir", "ltr") == "\u20669 Mangsir\u2069"


def test_words_do_not_grow_together() -> None:
    assert strip_marks("a\tb\u2028c") == "a b c"
    assert strip_marks("a\nb\u2028c", lines=True) == "a\nb c"


@given(st.text(st.characters()), st.booleans())
def test_nothing_hidden_is_left_and_all_that_is_seen_stays(text: str, lines: bool) -> None:
    plain = strip_marks(text, lines=lines)
    assert hidden_characters(plain, lines=lines) == []
    assert strip_marks(plain, lines=lines) == plain
    assert [char for char in plain if char in JOINERS] == [char for char in text if char in JOINERS]
    assert [char for char in plain if char.isalnum()] == [char for char in text if char.isalnum()]


@pytest.mark.parametrize(
    ("text", "way"),
    [
        # UAX 9, P2 and P3: the first strong letter (L, R or AL), and "ltr" where there is none.
        ("Mara", "ltr"),
        ("(3) مريم", "rtl"),
        ("12 שלום x", "rtl"),
        ("अनिता مريم", "ltr"),
        ("+977 984-1234567", "ltr"),
        ("٠٥٠ ١٢٣", "ltr"),
        ("\u2068مريم\u2069 x", "rtl"),
        ("", "ltr"),
    ],
)
def test_a_text_runs_as_its_first_letter(text: str, way: str) -> None:
    assert runs(text) == way
