"""The tables of letters: nothing but Latin letters comes of them, and no sign stands twice."""

import csv
import unicodedata

import pytest

from relations.languages import letters

TABLES = {
    name: getattr(letters, name)
    for name in ("CYRILLIC", "GREEK", "GEORGIAN", "ARMENIAN", "HEBREW", "ARABIC", "PERSIAN")
}


@pytest.mark.parametrize("name", TABLES)
def test_a_table_gives_small_latin_letters_for_the_letters_of_its_script(name: str) -> None:
    script = "ARABIC" if name == "PERSIAN" else name
    for sign, sound in TABLES[name].items():
        assert unicodedata.name(sign).startswith(script)
        assert sound == "" or (sound.isascii() and sound.isalpha() and sound.islower())


@pytest.mark.parametrize(
    ("name", "first", "last"),
    [("GEORGIAN", "ა", "ჰ"), ("HEBREW", "א", "ת"), ("GREEK", "α", "ω"), ("CYRILLIC", "а", "я")],
)
def test_a_table_has_every_letter_of_its_alphabet(name: str, first: str, last: str) -> None:
    assert {chr(point) for point in range(ord(first), ord(last) + 1)} <= set(TABLES[name])


def test_hangul_has_its_19_beginnings_21_vowels_and_28_endings() -> None:
    """Unicode 3.12: 19 x 21 x 28 = 11,172 syllables."""
    parts = (letters.BEGINNINGS, letters.VOWELS, letters.ENDINGS)
    assert [len(part) for part in parts] == [19, 21, 28]


def test_each_chinese_sign_stands_once() -> None:
    with letters._HAN.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    signs = "".join(row["signs"] for row in rows)
    assert len(signs) == len(set(signs)) == len(letters.han())
    assert all(unicodedata.name(sign).startswith("CJK UNIFIED") for sign in signs)
    assert [row["sound"] for row in rows] == sorted({row["sound"] for row in rows})
