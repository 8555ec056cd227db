"""Names of months: printed in one spelling, read in many."""

import pytest

from relations.languages.direction import hidden_characters
from relations.languages.local_calendars import Calendar, months_in
from relations.languages.month_names import ERAS, NAMES, month_name, month_number, own

BS, HIJRI, SOLAR = Calendar.BIKRAM_SAMBAT, Calendar.HIJRI, Calendar.SOLAR_HIJRI
ETHIOPIAN, BUDDHIST = Calendar.ETHIOPIAN, Calendar.BUDDHIST


@pytest.mark.parametrize("calendar", NAMES)
def test_every_month_has_a_name_of_its_own_in_each_language(calendar):
    for names in NAMES[calendar].values():
        assert len(set(names)) == months_in(calendar)
        assert not any(hidden_characters(name) for name in names)


@pytest.mark.parametrize("calendar", NAMES)
def test_printed_names_are_read_back(calendar):
    for names in NAMES[calendar].values():
        assert [month_number(calendar, name) for name in names] == list(
            range(1, months_in(calendar) + 1)
        )


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
    "calendar, name, month",
    # languages.md 1.4: the ninth month of the Solar Hijri year in Iran, in Dari and in Pashto.
    [
        (SOLAR, "آذر", 9),
        (SOLAR, "قوس", 9),
        (SOLAR, "لیندۍ", 9),
        (SOLAR, "فروردين", 1),  # with the letters of an Arabic keyboard
        (SOLAR, "Hamal", 1),
        (ETHIOPIAN, "ኅዳር", 3),
        (ETHIOPIAN, "ህዳር", 3),  # letters that sound alike
        (ETHIOPIAN, "Pagume", 13),
        (BUDDHIST, "พ.ย.", 11),
        (Calendar.GREGORIAN, "พฤศจิกายน", 11),
        (Calendar.GREGORIAN, "nov.", 11),
        (Calendar.GREGORIAN, "Août", 8),
        (Calendar.GREGORIAN, "تشرين الثاني", 11),  # ar_SY
        (Calendar.GREGORIAN, "نونبر", 11),  # ar_MA
        (Calendar.GREGORIAN, "नोभेम्बर", 11),
        (HIJRI, "ربيع ١", 3),
    ],
)
def test_months_of_other_calendars_are_read(calendar, name, month):
    assert month_number(calendar, name) == month


def test_afghanistan_has_names_of_its_own_for_the_same_months():
    assert [month_name(SOLAR, 9, lang) for lang in ("fa", "fa-AF", "ps", "fr", "en")] == [
        *("آذر", "قوس", "لیندۍ", "azar", "Azar"),
    ]
    assert (own(SOLAR, "fa_AF"), own(SOLAR, "fa-IR"), own(SOLAR, "de"), own(SOLAR, "")) == (
        *("fa-af", "fa", "", ""),
    )


def test_every_language_with_names_has_a_mark_of_its_years_or_needs_none():
    lacking = {
        (calendar, lang)
        for calendar, names in NAMES.items()
        for lang in names
        if lang not in ERAS[calendar]
    }
    # Bikram Sambat in Nepali is the year that is expected there.
    assert lacking == {(BS, "ne")}
