"""Digits of any script become ASCII, and go back for readers of that script."""

import unicodedata

import pytest
from babel import Locale
from babel.localedata import locale_identifiers
from hypothesis import given
from hypothesis import strategies as st

from relations.languages.digits import EUROPEAN, ZEROS, to_ascii, to_native, to_script


@pytest.mark.parametrize(
    "typed",
    ["٠١٢٣٤٥٦٧٨٩", "۰۱۲۳۴۵۶۷۸۹", "०१२३४५६७८९", "০১২৩৪৫৬৭৮৯", "0123456789"],
)
def test_digits_of_a_script_become_ascii(typed: str) -> None:
    assert to_ascii(typed) == "0123456789"


def test_text_around_the_digits_stays() -> None:
    assert to_ascii("२०२६-११-२५ साँझ") == "2026-11-25 साँझ"


def test_numerals_that_are_no_decimal_digits_stay() -> None:
    assert to_ascii("፳፻ Ⅳ ½") == "፳፻ Ⅳ ½"


@given(st.text(st.characters(categories=["Nd"])))
def test_every_decimal_digit_of_unicode_is_read(typed: str) -> None:
    assert to_ascii(typed) == "".join(str(unicodedata.digit(char)) for char in typed)


@given(st.text())
def test_reading_twice_changes_nothing(typed: str) -> None:
    once = to_ascii(typed)
    assert len(once) == len(typed)
    assert to_ascii(once) == once


@pytest.mark.parametrize(
    ("lang", "written"),
    [
        ("ar", "25"),
        ("ar-SY", "٢٥"),
        ("ar_SY", "٢٥"),
        ("ar-MA", "25"),
        ("fa", "۲۵"),
        ("ne", "२५"),
        ("bn", "২৫"),
        ("ur", "25"),
        ("my", "၂၅"),
        ("fr", "25"),
        ("new", "25"),
    ],
)
def test_each_language_has_its_own_digits(lang: str, written: str) -> None:
    assert to_native("25", lang) == written


@given(st.sampled_from(sorted({*ZEROS, "ar-SY"} - EUROPEAN)), st.integers(min_value=0))
def test_native_digits_read_back_as_they_were(lang: str, number: int) -> None:
    written = to_native(str(number), lang)
    assert not written.isascii()
    assert to_ascii(written) == str(number)


def test_the_digits_are_those_of_the_common_locale_data() -> None:
    """Source: CLDR defaultNumberingSystem, as packed in Babel 2.18.0."""
    zeros = {"latn": "0", "arab": "٠", "arabext": "۰", "beng": "০", "deva": "०"}
    zeros |= {"mymr": "၀", "tibt": "༠"}
    ours = [name for name in locale_identifiers() if name.partition("_")[0] in {*ZEROS, "ur", "fr"}]
    assert len(ours) > 60
    for name in ours:
        if name != "ur_IN":  # Urdu of India alone has digits of its own there
            assert to_native("0", name) == zeros[Locale.parse(name).default_numbering_system], name


@pytest.mark.parametrize(
    ("lang", "written"),
    [("ar", "٢"), ("ar-MA", "٢"), ("ne", "२"), ("bn", "২"), ("fr", "2"), ("fa_IR", "۲")],
)
def test_digits_of_a_script_are_those_of_its_letters_whatever_the_country(lang, written):
    assert to_script("2", lang) == written
    assert to_ascii(to_script("70042", lang)) == "70042"
