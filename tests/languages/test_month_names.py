"""Names of months: printed in one spelling, read in many."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages import month_names
from relations.languages.direction import hidden_characters
from relations.languages.local_calendars import Calendar, to_gregorian, to_local
from relations.languages.month_names import NAMES, month_name, month_number, own, read_day

BS, HIJRI = Calendar.BIKRAM_SAMBAT, Calendar.HIJRI


@pytest.mark.parametrize("calendar", NAMES)
def test_every_month_has_a_name_of_its_own_in_each_language(calendar):
    for names in NAMES[calendar].values():
        assert len(set(names)) == 12
        assert not any(hidden_characters(name) for name in names)


@pytest.mark.parametrize("calendar", NAMES)
def test_no_spelling_stands_for_two_months(calendar):
    claimed: dict[str, set[int]] = {}
    for number, typed in enumerate(month_names._TYPED[calendar], start=1):
        printed = [names[number - 1] for names in NAMES[calendar].values()]
        for name in [*printed, *typed.split()]:
            claimed.setdefault(month_names._folded(name), set()).add(number)
    assert not {name: months for name, months in claimed.items() if len(months) > 1}


@pytest.mark.parametrize("calendar", NAMES)
def test_printed_names_are_read_back(calendar):
    for names in NAMES[calendar].values():
        assert [month_number(calendar, name) for name in names] == list(range(1, 13))


@pytest.mark.parametrize(
    "name, month",
    # languages.md 1.2: spellings that libraries part on.
    [
        ("जेठ", 2),
        ("जेष्ठ", 2),
        ("साउन", 4),
        ("श्रावण", 4),
        ("कात्तिक", 7),
        ("कार्तिक", 7),
        ("मङ्सिर", 8),
        ("मंसिर", 8),
        (" mangsir ", 8),
        ("MANSIR", 8),
    ],
)
def test_months_of_bikram_sambat_are_read_in_their_spellings(name, month):
    assert month_number(BS, name) == month


@pytest.mark.parametrize(
    "name, month",
    [
        ("مُحَرَّم", 1),
        ("ربيع الاول", 3),
        ("جمادى الآخرة", 6),
        ("جمادي الاخره", 6),
        ("رمـضان", 9),
        ("Ramaḍān", 9),
        ("Sha'bān", 8),
        ("Ramadhan", 9),
        ("ذي الحجة", 12),
    ],
)
def test_months_of_the_hijri_year_are_read_in_their_spellings(name, month):
    assert month_number(HIJRI, name) == month


def test_word_that_is_no_month_is_not_guessed():
    assert month_number(BS, "November") is None
    assert month_number(BS, "Ramadan") is None
    assert month_number(HIJRI, "") is None


def test_other_languages_get_plain_letters():
    assert month_name(BS, 8, "ne-NP") == "मङ्सिर"
    assert [month_name(BS, 8, lang) for lang in ("en", "fr", "ar", "bn")] == ["Mangsir"] * 4
    assert month_name(HIJRI, 6, "ar") == "جمادى الآخرة"
    assert month_name(HIJRI, 6, "ne") == "Jumada II"
    assert (own(BS, "ne"), own(BS, "ar"), own(HIJRI, "ar_SA")) == ("ne", "", "ar")


@pytest.mark.parametrize(
    "typed",
    [
        "2083-08-09",
        "9/8/2083",
        "२०८३ मङ्सिर ९",
        "\u2066२०८३ मंसिर ९\u2069",
        "9 Mangsir 2083",
        "09.08.2083",
    ],
)
def test_day_of_bikram_sambat_is_read(typed):
    read = read_day(typed, BS)
    assert read == (BS, 2083, 8, 9, False)
    assert to_gregorian(*read[:4]) == date(2026, 11, 25)


def test_day_of_the_hijri_year_is_read():
    assert read_day("١٥ جمادى الآخرة ١٤٤٨", HIJRI) == (HIJRI, 1448, 6, 15, False)
    assert read_day("1448-12-9", HIJRI) == read_day("9 Dhu al-Hijja 1448", HIJRI)


def test_provisional_day_is_read_as_such():
    assert read_day("2084-01-01", BS).is_provisional


@pytest.mark.parametrize(
    "typed", ["", "2083", "2083-08", "2083-08-30", "1974-01-01", "9 November 2083", "2083-13-01"]
)
def test_what_is_no_day_of_the_table_is_not_read(typed):
    assert read_day(typed, BS) is None


@given(st.dates(date(1924, 8, 1), date(2034, 4, 13)), st.sampled_from([BS, HIJRI]))
def test_every_day_written_with_its_month_is_read_back(day, calendar):
    local = to_local(day, calendar)
    for lang in ("ne", "ar", "en"):
        written = f"{local.day} {month_name(calendar, local.month, lang)} {local.year}"
        assert read_day(written, calendar) == local
