"""Figures, lists, spans and ages come out as the reader writes them."""

from datetime import date
from decimal import Decimal

import pytest
from babel import Locale
from babel.lists import format_list
from babel.numbers import format_decimal
from django.template import Context, Template
from django.utils import translation
from hypothesis import given
from hypothesis import strategies as st

from relations.languages import said
from relations.languages.digits import to_ascii
from relations.languages.direction import strip_marks
from relations.languages.local_calendars import Calendar
from relations.languages.manner import Figures, Manner, speaking

DAY = date(2026, 11, 25)


def speak(language, figures=Figures.USUAL, calendar=Calendar.GREGORIAN):
    """Both at once, as a page is answered."""
    return translation.override(language), speaking(Manner(language, figures, calendar))


@pytest.mark.parametrize(
    ("language", "figures", "few", "many"),
    # Usual: CLDR's default figures; many: CLDR's grouping, the marks of the script beside its own.
    [
        ("en", Figures.USUAL, "9999", "1,234,567"),
        ("en", Figures.OWN, "9999", "1,234,567"),
        ("fr", Figures.USUAL, "9999", "1\u202f234\u202f567"),
        ("ar", Figures.USUAL, "9999", "1,234,567"),
        ("ar", Figures.OWN, "٩٩٩٩", "١٬٢٣٤٬٥٦٧"),
        ("ar", Figures.EUROPEAN, "9999", "1,234,567"),
        ("ne", Figures.USUAL, "९९९९", "१२,३४,५६७"),
        ("ne", Figures.OWN, "९९९९", "१२,३४,५६७"),
        ("ne", Figures.EUROPEAN, "9999", "12,34,567"),
        ("fa", Figures.USUAL, "۹۹۹۹", "۱٬۲۳۴٬۵۶۷"),
    ],
)
def test_count_is_written_in_the_figures_asked_for_and_grouped_from_ten_thousand(
    language, figures, few, many
):
    spoken, manner = speak(language, figures)
    with spoken, manner:
        assert str(said.figures(9999)) == few
        assert str(said.figures(1234567)) == many


@pytest.mark.parametrize("language", ["en", "fr", "ar", "ne", "xx"])
def test_nothing_and_less_than_nothing_are_written_too(language):
    with translation.override(language):
        assert to_ascii(str(said.figures(0))) == "0"
        assert to_ascii(str(said.figures(-12))) == "-12"


def test_figure_is_a_number_that_chooses_its_plural_and_writes_itself():
    page = Template(
        "{% load i18n words %}{% blocktranslate count n=x|figures %}{{ n }} sheet{% plural %}"
        "{{ n }} sheets{% endblocktranslate %}"
    )
    with translation.override("fr"), speaking(Manner("fr")):
        assert page.render(Context({"x": 12345})) == "12\u202f345 feuilles"
        assert page.render(Context({"x": 1})).startswith("1 ")
    spoken, manner = speak("ne")
    with spoken, manner:
        assert f"{said.figures(12)}" == format(said.figures(12)) == "१२"
        assert said.figures(12) + 1 == 13


@pytest.mark.parametrize("language", ["en", "fr", "ar", "ne"])
@given(number=st.integers(min_value=10_000, max_value=10**12))
def test_grouping_is_that_of_the_common_locale_data(language, number):
    with translation.override(language):
        written = to_ascii(str(said.figures(number)))
    assert written == format_decimal(number, locale=language, numbering_system="latn")


def test_what_is_written_for_others_keeps_to_their_usual_figures():
    """An Arabic reader's own figures are nothing to a paper in Nepali or in Arabic of Morocco."""
    with speaking(Manner("ar", Figures.OWN, Calendar.HIJRI)), translation.override("ne"):
        assert str(said.figures(25)) == "२५"
        assert said.written("25", "ar-MA") == "25"
        assert said.beside(DAY) == ""


@pytest.mark.parametrize(
    ("language", "figures", "shown"),
    [
        ("en", Figures.USUAL, ["12.5", "0.3", "-1", "12,345.67"]),
        ("fr", Figures.USUAL, ["12,5", "0,3", "-1", "12\u202f345,67"]),
        ("ar", Figures.OWN, ["١٢٫٥", "٠٫٣", "-١", "١٢٬٣٤٥٫٦٧"]),
        ("ne", Figures.USUAL, ["१२.५", "०.३", "-१", "१२,३४५.६७"]),
    ],
)
def test_decimals_have_the_marks_of_the_language_and_round_halves_away_from_nought(
    language, figures, shown
):
    spoken, manner = speak(language, figures)
    asked = [(12.5, 1), (0.25, 1), (-0.5, 0), (Decimal("12345.665"), 2)]
    with spoken, manner:
        assert [said.decimal(*one) for one in asked] == shown


@pytest.mark.parametrize(
    ("language", "three", "two"),
    # languages.md 2.1; Nepali: one space more than CLDR after the first comma.
    [
        ("en", "A, B and C", "A and B"),
        ("fr", "A, B et C", "A et B"),
        ("ar", "A وB وC", "A وB"),
        ("ne", "A, B र C", "A र B"),
        ("xx", "A, B and C", "A and B"),
    ],
)
def test_list_is_said_as_the_language_says_it(language, three, two):
    with translation.override(language):
        assert strip_marks(said.listed("ABC")) == three
        assert strip_marks(said.listed("AB")) == two
        assert strip_marks(said.listed("A")) == "A"
        assert said.listed([]) == ""


@pytest.mark.parametrize(("language", "known"), [("en", "en_GB"), ("fr", "fr"), ("ar", "ar")])
@given(st.lists(st.text("abc", min_size=1), max_size=6))
def test_list_is_that_of_the_common_locale_data(language, known, items):
    assert strip_marks(said.listed(items, language)) == format_list(items, locale=known)


def test_comma_is_that_of_the_script():
    assert (said.comma("ar"), said.comma("fa"), said.comma("fr")) == ("، ", "، ", ", ")
    with translation.override("ar"):
        assert said.comma() == "، "


def test_numbers_are_set_into_words_as_figures_whatever_way_they_are_asked_for():
    with translation.override("ne"):
        words = "%(n)d of %(all)s, %(code)s"
        assert said.filled(words, n=3, all=12, code="07") == "३ of १२, 07"


def test_numbers_in_a_list_are_figures():
    with translation.override("ne"):
        assert said.listed([1, 2, 12]) == "१, २ र १२"


def test_items_of_a_list_do_not_turn_one_another():
    assert said.listed(["07", "ريم"], "en") == "07 and \u2068ريم\u2069"
    assert said.listed(["07", "08"], "ar") == "\u206807\u2069 و\u206808\u2069"
    assert said.listed(["07", "08"], "en") == "07 and 08"


def test_age_known_roughly_is_said_as_two():
    assert said.aged(17, 18) == "17–18"
    assert said.aged(18, 18) == "18"
    with translation.override("ne"), speaking(Manner("ne")):
        assert said.aged(17, 18) == "१७–१८"


@pytest.mark.parametrize(
    ("language", "figures", "calendar", "second"),
    [
        ("en", Figures.USUAL, Calendar.GREGORIAN, ""),
        ("en", Figures.USUAL, Calendar.BIKRAM_SAMBAT, "9 Mangsir 2083 BS"),
        ("ne", Figures.USUAL, Calendar.BIKRAM_SAMBAT, "२०८३ मङ्सिर ९"),
        ("ne", Figures.EUROPEAN, Calendar.BIKRAM_SAMBAT, "2083 मङ्सिर 9"),
    ],
)
def test_second_calendar_stands_beside_where_it_is_asked_for(language, figures, calendar, second):
    spoken, manner = speak(language, figures, calendar)
    with spoken, manner:
        assert strip_marks(said.beside(DAY)) == second


@pytest.mark.parametrize(
    ("language", "second"),
    [
        ("en", "17 Baishakh 2084 BS, provisional"),
        ("fr", "17 Baishakh 2084 BS, provisoire"),
        ("es", "17 Baishakh 2084 BS, provisional"),
    ],
)
def test_day_of_a_forecast_says_that_it_is_one(language, second):
    spoken, manner = speak(language, calendar=Calendar.BIKRAM_SAMBAT)
    with spoken, manner:
        assert strip_marks(said.beside(date(2027, 4, 30))) == second


def test_day_outside_the_checked_range_of_a_calendar_has_none_beside_it():
    with speaking(Manner("en", calendar=Calendar.HIJRI)):
        assert said.beside(date(1850, 1, 1)) == ""


def test_language_that_babel_does_not_know_is_english():
    assert said.locale_of("not a tag") == Locale("en", "GB")
