"""Days as they are typed, in any calendar: every reading, and never a guess between two."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages.calendars import Interval
from relations.languages.digits import to_native
from relations.languages.direction import strip_marks
from relations.languages.local_calendars import Calendar, to_local
from relations.languages.month_names import NAMES, SPELLINGS, month_name
from relations.languages.paper_days import local
from relations.languages.reading_days import _CALENDARS, _NOISE, MARKS, readings

GREGORIAN, BS, HIJRI = Calendar.GREGORIAN, Calendar.BIKRAM_SAMBAT, Calendar.HIJRI
SOLAR, ETHIOPIAN, BUDDHIST = Calendar.SOLAR_HIJRI, Calendar.ETHIOPIAN, Calendar.BUDDHIST
# As every table of languages.md 1 has it.
DAY = date(2026, 11, 25)
# Where every calendar has its days.
DAYS = st.dates(date(1941, 1, 1), date(2033, 12, 31))


def only(typed: str, usual: Calendar = GREGORIAN) -> Interval:
    (found,) = readings(typed, usual)
    return found.interval


@pytest.mark.parametrize(
    "typed",
    [
        *("2008-03-05", "2008/3/5", "5/3/2008", "05.03.2008", "5 3 2008", " 05-03-2008 "),
        *("\u200e2008-03-05\u200e", "٢٠٠٨-٠٣-٠٥", "२००८-०३-०५", "৫/৩/২০০৮", "۲۰۰۸-۰۳-۰۵"),
    ],
)
def test_figures_are_read_day_first_and_in_every_script(typed):
    (found,) = readings(typed)
    assert found.is_plain
    assert found.is_exact
    assert found.interval == Interval(date(2008, 3, 5), date(2008, 3, 5))


def test_a_year_and_a_month_are_all_their_days():
    assert only("2008") == only("२००८") == Interval(date(2008, 1, 1), date(2008, 12, 31))
    for typed in ("02/2008", "2/2008", "2008-02", "02 2008", "Feb 2008", "2008 février"):
        assert only(typed) == Interval(date(2008, 2, 1), date(2008, 2, 29))
        assert not readings(typed)[0].is_exact


@pytest.mark.parametrize(
    "typed, calendar",
    [
        ("25 November 2026", GREGORIAN),
        ("November 25, 2026", GREGORIAN),
        ("25 nov. 2026", GREGORIAN),
        ("25 de noviembre de 2026", GREGORIAN),
        ("٢٥ نوفمبر ٢٠٢٦", GREGORIAN),
        ("25 تشرين الثاني 2026", GREGORIAN),
        ("२५ नोभेम्बर २०२६", GREGORIAN),
        ("25.11.2026 AD", GREGORIAN),
        ("२०८३ मङ्सिर ९", BS),
        ("९ गते मंसिर २०८३", BS),
        ("9 Mangsir 2083 BS", BS),
        ("Mangsir 9 2083", BS),
        ("वि.सं. २०८३/८/९", BS),
        ("वि. सं. २०८३-०८-०९", BS),
        ("9/8/2083 B.S.", BS),
        ("9 BS 8 2083", BS),
        ("١٥ جمادى الآخرة ١٤٤٨ هـ", HIJRI),
        ("15/6/1448 هـ", HIJRI),
        ("15 Jumada II 1448 AH", HIJRI),
        ("15 Joumada II 1448", HIJRI),
        ("1448-06-15 hijri", HIJRI),
        ("۴ آذر ۱۴۰۵", SOLAR),
        ("۴ قوس ۱۴۰۵", SOLAR),
        ("۱۴۰۵/۹/۴ ه‍.ش", SOLAR),
        ("1405/9/4 هـ ش", SOLAR),
        ("4 Azar 1405 SH", SOLAR),
        ("ኅዳር 16 2019", ETHIOPIAN),
        ("ኅዳር 16 ቀን 2019 ዓ.ም.", ETHIOPIAN),
        ("16/3/2019 EC", ETHIOPIAN),
        ("16 Hidar 2019", ETHIOPIAN),
        ("25 พฤศจิกายน 2569", BUDDHIST),
        ("25 พ.ย. 2569", BUDDHIST),
        ("25/11/2569", BUDDHIST),
        ("25 พฤศจิกายน พ.ศ. 2569", BUDDHIST),
        ("2569-11-25 BE", BUDDHIST),
    ],
)
def test_name_of_a_month_or_a_mark_says_the_calendar(typed, calendar):
    (found,) = readings(typed)
    assert (found.calendar, found.interval) == (calendar, Interval(DAY, DAY))
    assert found.is_exact
    assert not found.is_plain


def test_a_number_that_fits_two_calendars_gives_both():
    assert {one.calendar: one.interval.earliest for one in readings("1405-09-04")} == {
        HIJRI: date(1985, 5, 23),
        SOLAR: DAY,
    }
    assert [one.calendar for one in readings("1400")] == [HIJRI, SOLAR]
    assert {one.calendar for one in readings("2026-11-25", BS)} == {GREGORIAN, BS}
    assert {one.calendar for one in readings("2083-08-09", BS)} == {GREGORIAN, BS}
    # The fifth month in Ethiopia, the fourth in Iran: here the year tells them apart.
    assert [one.calendar for one in readings("Tir 2010")] == [ETHIOPIAN]
    assert [one.calendar for one in readings("Tir 1389")] == [SOLAR]


def test_the_calendar_of_the_reader_is_the_first_that_figures_are_read_in():
    assert only("1405-09-04", SOLAR) == Interval(DAY, DAY)
    assert only("25.11.2026", SOLAR) == Interval(DAY, DAY)
    assert only("2083-08-09") == Interval(date(2083, 8, 9), date(2083, 8, 9))
    # A mark wins over the reader's calendar.
    assert only("2083-08-09 BS", SOLAR) == Interval(DAY, DAY)


@pytest.mark.parametrize(
    "typed",
    [
        *("", " ", "about 18", "18", "05/03/08", "31/4/2008", "29/2/2009", "0/3/2008", "5/13/2008"),
        *("13/2008", "00/2008", "5-3/2008", "0000", "2008-03-05 10:00", "1100-01-01", "yesterday"),
        *(
            "9 Mangsar 2083",
            "2083 BS AH",
            "BS 2083 AH",
            "32 Mangsir 2083",
            "30 Mangsir 2083",
            "0 Mangsir 2083",
        ),
        *("BS", "Mangsir", "9 Mangsir", "30.2.2026 BE", "1-1-1974 BS", "Ramadan 2026"),
    ],
)
def test_what_is_no_day_is_not_guessed(typed):
    assert readings(typed) == ()


def test_a_slip_in_a_gregorian_day_is_no_day_of_another_calendar():
    # Ashadh has 32 days in 2026 BS, and 31 April is none.
    assert readings("31/4/2026") == ()
    assert only("31/4/2026 BS").is_exact


def test_a_day_far_ahead_is_read_where_nothing_else_fits():
    assert only("2150-01-01") == Interval(date(2150, 1, 1), date(2150, 1, 1))
    assert only("1850") == Interval(date(1850, 1, 1), date(1850, 12, 31))


@given(
    DAYS,
    st.sampled_from(["en", "fr", "ar", "fa", "fa-AF", "ps", "ne", "am", "ti", "th"]),
    st.sampled_from([one for one in Calendar if one is not GREGORIAN]),
)
def test_every_day_as_we_print_it_is_read_back(day, lang, calendar):
    printed = local(to_local(day, calendar), lang)
    assert {one.interval for one in readings(printed, calendar) if one.calendar is calendar} == {
        Interval(day, day)
    }


@given(DAYS, st.sampled_from(list(NAMES)), st.sampled_from(["ne", "ar", "am", "fa", "en"]))
def test_every_day_written_with_its_month_is_read_back(day, calendar, lang):
    parts = to_local(day, calendar)
    written = f"{parts.day} {month_name(calendar, parts.month, lang)} {parts.year}"
    assert Interval(day, day) in {
        one.interval for one in readings(written) if one.calendar is calendar
    }


@given(DAYS, st.sampled_from(["fr", "ar-EG", "fa", "ne", "bn"]))
def test_gregorian_figures_have_one_reading_in_every_script(day, lang):
    for typed in (day.isoformat(), f"{day.day}/{day.month}/{day.year}"):
        assert only(to_native(typed, lang)) == Interval(day, day)


@given(st.text(max_size=30))
def test_nothing_that_can_be_typed_breaks_the_reading(text):
    for usual in Calendar:
        for one in readings(text, usual):
            assert one.interval.earliest <= one.interval.latest


def test_no_mark_is_the_name_of_a_month_and_none_means_two_calendars():
    names = {name for spellings in SPELLINGS.values() for name in spellings}
    assert not names & (set(_CALENDARS) | _NOISE)
    assert sum(len(marks.split()) for marks in MARKS.values()) >= len(_CALENDARS)
    assert "" not in _CALENDARS
    said: dict[str, set[Calendar]] = {}
    for calendar, marks in MARKS.items():
        for mark in marks.split():
            said.setdefault(strip_marks(mark).casefold(), set()).add(calendar)
    assert all(len(calendars) == 1 for calendars in said.values())


@pytest.mark.parametrize("typed", ["1/" * 50_000, "-" * 100_000, "a-" * 50_000, "9" * 5000])
def test_what_is_longer_than_any_day_is_none(typed):
    assert readings(typed) == ()
