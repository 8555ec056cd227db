"""Days as paper prints them."""

from datetime import date
from io import BytesIO

import pypdfium2
import pytest

from relations.documents.render import render
from relations.languages.direction import direction, strip_marks
from relations.languages.local_calendars import Calendar
from relations.languages.month_names import PROVISIONAL
from relations.languages.paper_days import (
    beside,
    for_reader,
    local_part,
    paper_day,
    year_said,
)

DAY = date(2026, 11, 25)
LANGUAGES = ("en", "fr", "es", "pt", "ar", "ne", "bn")
BS, HIJRI = Calendar.BIKRAM_SAMBAT, Calendar.HIJRI


@pytest.mark.parametrize(
    "lang, calendar, said",
    [
        ("en", None, "25 November 2026"),
        ("fr", None, "25 novembre 2026"),
        ("es", None, "25 de noviembre de 2026"),
        ("pt", None, "25 de novembro de 2026"),
        ("ar", None, "25 نوفمبر 2026"),
        ("bn", None, "২৫ নভেম্বর, ২০২৬"),
        ("ne", None, "२०२६ नोभेम्बर २५ (२०८३ मङ्सिर ९)"),
        ("ne", "gregorian", "२०२६ नोभेम्बर २५"),
        ("ar-SA", None, "٢٥ نوفمبر ٢٠٢٦ (١٥ جمادى الآخرة ١٤٤٨ هـ)"),
        ("ar", HIJRI, "25 نوفمبر 2026 (15 جمادى الآخرة 1448 هـ)"),
        ("en", BS, "25 November 2026 (9 Mangsir 2083 BS)"),
        ("en", "hijri", "25 November 2026 (15 Jumada II 1448 AH)"),
        ("bn", BS, "২৫ নভেম্বর, ২০২৬ (9 Mangsir 2083 BS)"),
        ("fa", None, "۲۵ نوامبر ۲۰۲۶ (۴ آذر ۱۴۰۵ ه\u200d.ش)"),
        ("fa-AF", None, "۲۵ نومبر ۲۰۲۶ (۴ قوس ۱۴۰۵ ه\u200d.ش)"),
        ("am", None, "25 ኖቬምበር 2026 (ኅዳር 16 2019 ዓ.ም.)"),
        ("th", None, "25 พฤศจิกายน ค.ศ. 2026 (25 พฤศจิกายน พ.ศ. 2569)"),
        ("fr", Calendar.SOLAR_HIJRI, "25 novembre 2026 (4 azar 1405 SH)"),
        ("fr", HIJRI, "25 novembre 2026 (15 Joumada II 1448 AH)"),
        ("ar", Calendar.ETHIOPIAN, "25 نوفمبر 2026 (16 هدار 2019 إثيوبية)"),
        ("en", Calendar.BUDDHIST, "25 November 2026 (25 November 2569 BE)"),
        ("xx", None, "25 November 2026"),
        ("not a tag", None, "25 November 2026"),
    ],
)
def test_gregorian_day_stands_first_and_the_second_calendar_in_brackets(lang, calendar, said):
    assert strip_marks(paper_day(DAY, lang, calendar)) == said


def test_no_day_is_no_words():
    assert paper_day(None, "ne") == ""


def test_calendar_that_we_do_not_know_is_an_error():
    with pytest.raises(ValueError, match="mayan"):
        paper_day(DAY, "en", "mayan")


@pytest.mark.parametrize("lang", LANGUAGES)
def test_provisional_day_says_so_and_a_confirmed_one_does_not(lang):
    last, first = (paper_day(date(2027, 4, day), lang, BS) for day in (13, 14))
    assert PROVISIONAL[lang] in first
    assert PROVISIONAL[lang] not in last


def test_word_for_provisional_falls_back_to_english():
    assert PROVISIONAL["en"] in paper_day(date(2028, 2, 1), "it", BS)


@pytest.mark.parametrize("lang", LANGUAGES)
@pytest.mark.parametrize("day", [date(1900, 1, 1), date(2090, 1, 1)])
@pytest.mark.parametrize("calendar", [BS, HIJRI])
def test_outside_the_checked_range_nothing_stands_beside_the_gregorian_day(lang, day, calendar):
    assert paper_day(day, lang, calendar) == paper_day(day, lang, Calendar.GREGORIAN)


@pytest.mark.parametrize("lang", LANGUAGES)
@pytest.mark.parametrize("calendar", Calendar)
def test_day_is_isolated_in_its_own_direction_and_every_mark_is_closed(lang, calendar):
    said = paper_day(DAY, lang, calendar)
    assert said.startswith({"ltr": "\u2066", "rtl": "\u2067"}[direction(lang)])
    opened = said.count("\u2066") + said.count("\u2067")
    assert opened == said.count("\u2069") == (1 if calendar is Calendar.GREGORIAN else 2)


@pytest.mark.parametrize("lang", LANGUAGES)
@pytest.mark.parametrize("calendar", Calendar)
def test_our_fonts_have_every_letter_of_every_month(lang, calendar):
    days = [date(2026, month, 25) for month in range(1, 13)] + [date(2028, 2, 1)]
    said = "".join(f"<p>{paper_day(day, lang, calendar)}</p>" for day in days)
    page = f'<html lang="{lang}" dir="{direction(lang)}"><title>x</title>{said}</html>'
    css = "html { font-family: Mukta, Amiri, Hind Siliguri }"
    assert render(page, lang=lang, title="x", css=css)


def test_brackets_and_digits_keep_their_places_on_a_right_to_left_line():
    """By where the glyphs stand: a reader starts at the right with the 25."""
    said = paper_day(DAY, "ar", BS)
    page = f'<html lang="ar" dir="rtl"><title>x</title><p>في {said} هنا</p></html>'
    content = render(page, lang="ar", title="x", css="html { font-family: Amiri }")
    with pypdfium2.PdfDocument(BytesIO(content)) as pdf:
        text = pdf[0].get_textpage()
        left = [
            (text.get_text_range(n, 1), text.get_charbox(n)[0]) for n in range(text.count_chars())
        ]
    # Mirrored brackets may be read back as either of the two.
    closing, opening = sorted(place for char, place in left if char in "()")
    five, nine, month, era = (
        next(place for char, place in left if char == sought) for sought in "59MB"
    )
    assert closing < nine < month < era < opening < five


def test_days_for_a_reader_bear_the_calendar_they_named_in_their_language_alone():
    with for_reader("fr", BS):
        assert strip_marks(paper_day(DAY, "fr")) == "25 novembre 2026 (9 Mangsir 2083 BS)"
        assert strip_marks(paper_day(DAY, "fr", Calendar.GREGORIAN)) == "25 novembre 2026"
        assert strip_marks(paper_day(DAY, "en")) == "25 November 2026"
        with for_reader("ne", Calendar.GREGORIAN):
            assert strip_marks(paper_day(DAY, "ne")) == "२०२६ नोभेम्बर २५"
        assert "Mangsir" in paper_day(DAY, "fr")
    assert strip_marks(paper_day(DAY, "fr")) == "25 novembre 2026"


@pytest.mark.parametrize(
    "lang, parts, said",
    [
        ("en", (2083, 8, 9), "9 Mangsir 2083 BS"),
        ("en", (2083, 8, None), "Mangsir 2083 BS"),
        ("en", (2083, None, None), "2083 BS"),
        ("ne", (2083, 8, None), "२०८३ मङ्सिर"),
        ("ne", (2083, None, None), "२०८३"),
    ],
)
def test_as_much_of_a_local_day_is_said_as_is_known(lang, parts, said):
    assert strip_marks(local_part(BS, *parts, lang)) == said


def test_a_year_alone_bears_its_mark():
    assert (year_said(BS, 2047), year_said(Calendar.GREGORIAN, 1990)) == ("2047 BS", "1990")


def test_nothing_stands_beside_a_gregorian_day_for_a_gregorian_reader():
    assert beside(DAY, "en", Calendar.GREGORIAN) == ""
