"""Letters and initials are those that a reader of the script sees."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages.naming import MOST, initials, letters


@pytest.mark.parametrize(
    ("text", "seen"),
    [
        # UAX 29, table 1a and 1b, as remembered: g with diaeresis, Hangul, Tamil, Devanagari.
        ("g̈", ["g̈"]),
        ("각", ["각"]),
        ("각", ["각"]),
        # From their parts, as some keyboards send them.
        ("\u1100\u1161\u11a8\uac00\u11a8", ["\u1100\u1161\u11a8", "\uac00\u11a8"]),
        ("நி", ["நி"]),
        ("षि", ["षि"]),
        ("क्षि", ["क्षि"]),
        ("क्‍ष", ["क्‍ष"]),
        ("नेपाल", ["ने", "पा", "ल"]),
        ("र्‍याम", ["र्‍या", "म"]),
        ("ক্ষমা", ["ক্ষ", "মা"]),
        ("مُحَمَّد", ["مُ", "حَ", "مَّ", "د"]),
        ("Éloi", ["É", "l", "o", "i"]),
        ("É", ["É"]),
        ("ab c", ["a", "b", " ", "c"]),
        ("👩‍🔧", ["👩‍🔧"]),
        ("", []),
    ],
)
def test_letters_are_counted_as_people_count_them(text, seen):
    assert letters(text) == seen


@given(st.text())
def test_no_sign_is_lost_and_no_letter_begins_with_a_mark(text):
    found = letters(text)
    assert "".join(found) == text
    assert all(unicodedata.category(one[0]) not in ("Mn", "Mc", "Me") for one in found[1:]) or any(
        before.isspace() for before in found
    )


@pytest.mark.parametrize(
    ("name", "short"),
    [
        ("Anita Kumari Sharma", "A.K.S."),
        ("Éloi", "É."),
        ("Éloi", "É."),
        ("Marie-Claire de la Tour", "M.C.T."),
        ("Jean d’Arc", "J.A."),
        ("Vincent van den Berg", "V.B."),
        ("María del Carmen Núñez y Peña", "M.C.P."),
        ("Łukasz", "Ł."),
        ("ǆenan", "ǅ."),
        ("Ёлка Чехова", "Ё.Ч."),
        ("Νίκος Ωραίος", "Ν.Ω."),
        ("გიორგი", "გ."),
        # Nepali: the whole first letter group, never a half one.
        ("क्षितिज श्रेष्ठ", "क्षि.श्रे."),
        ("अनिता प्रधान", "अ.प्र."),
        ("र्‍याम बहादुर", "र्‍या.ब."),
        ("ইউনুস ক্ষমা", "ই.ক্ষ."),
        # Arabic: no article, no particle, and a dot between, so that no two letters join.
        ("مريم الخالدي", "م.خ."),
        ("عبد الله بن سالم", "ع.ل.س."),
        ("إلهام", "إ."),
        ("دلال", "د."),
        ("שרה כהן", "ש.כ."),
        ("አበበ በቀለ", "አ.በ."),
        ("李娜", "李."),
        ("김민수", "김."),
        ("김 민수", "김.민."),
        ("สมชาย ใจดี", "ส.ใจ."),
        ("x b c d", "X.B.D."),
        ("07 – ?", ""),
        ("", ""),
    ],
)
def test_initials_of_every_script(name, short):
    assert initials(name) == short


@given(st.text())
def test_initials_are_at_most_a_few_letters(name):
    assert initials(name).count(".") <= MOST * 2
