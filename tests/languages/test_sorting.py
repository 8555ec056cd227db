"""Texts are folded alike, and a name is found however it is spelt."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages.sorting import contains_folded, contains_name, fold


@pytest.mark.parametrize(
    ("text", "folded"),
    [
        ("José  Aldana", "jose aldana"),
        ("K77_jose-aldana_web.jpg", "k77 jose aldana web jpg"),
        ("O'Malvey", "omalvey"),
        ("O’Malvey", "omalvey"),
        ("Oʼmalvey", "omalvey"),
        ("Bøłek Ørn", "bolek orn"),
        ("Đorđe, Æsa, Œil, Þór, Ýði", "dorde aesa oeil thor ydi"),
        ("Straße", "strasse"),
        ("IŞIK ışık İz", "isik isik iz"),
        ("Ἀλέξανδρος", "αλεξανδροσ"),
        ("Ёлка", "елка"),
        ("مُحَمَّد", "محمد"),
        ("ইউ\u200cনুস", "ইউনুস"),
        ("\u2067Rose\u2069", "rose"),
        ("𝐀nna ﬁn", "anna fin"),
        ("  --  ", ""),
        ("", ""),
    ],
)
def test_folding(text: str, folded: str) -> None:
    assert fold(text) == folded


@given(st.text())
def test_folding_twice_changes_nothing(text: str) -> None:
    assert fold(fold(text)) == fold(text)


@given(st.text())
def test_folded_text_is_letters_marks_digits_and_single_spaces(text: str) -> None:
    folded = fold(text)
    assert folded == " ".join(folded.split())
    assert all(sign == " " or unicodedata.category(sign)[0] in "LMN" for sign in folded)
    assert not any(unicodedata.combining(sign) for sign in folded)


@given(st.text())
def test_form_of_normalisation_does_not_matter(text: str) -> None:
    assert fold(unicodedata.normalize("NFD", text)) == fold(unicodedata.normalize("NFC", text))


@pytest.mark.parametrize(
    ("text", "name", "is_there"),
    [
        ("Réalisme, hall two", "Ali", False),
        ("with ALI, hall two", "Ali", True),
        ("Rosemary at the pump", "Rose", False),
        ("rose-mary", "Rose", True),
        ("Иванова", "Иван", False),
        ("иван, слева", "Иван", True),
        ("Νίκοςτης", "Νίκος", False),
        ("ο ΝΙΚΟΣ εδώ", "Νίκος", True),
        ("ইউনুসের ঘাট", "ইউ\u200cনুস", True),
        ("वसीता", "सीता", True),
        ("ويوسف", "يوسف", True),
        ("Annaさん", "Anna", False),
        ("x Anna李x", "Anna李", True),
        ("anna maria", "Anna  Maria", True),
        ("maria anna", "Anna Maria", False),
        ("1942", "42", True),
        ("anything", "", False),
        ("anything", "--", False),
        ("", "Rose", False),
    ],
)
def test_name_is_found_as_a_word_or_in_other_scripts_anywhere(
    text: str, name: str, is_there: bool
) -> None:
    assert contains_name(text, name) is is_there


@given(st.text(), st.text(), st.text().filter(fold))
def test_name_between_spaces_is_always_found(before: str, after: str, name: str) -> None:
    assert contains_name(f"{before} {name} {after}", name)


@given(st.text(), st.text())
def test_upper_case_hides_no_name(text: str, name: str) -> None:
    if contains_name(text, name):
        assert contains_folded(fold(text.casefold()), fold(name.casefold()))
