"""Births as they are said: an age, a year, a day; and what of it need be kept."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages.calendars import Interval
from relations.languages.local_calendars import Calendar, to_local
from relations.languages.reading_days import Reading, readings
from relations.people.births import Age, age_said, ages, born_at, enough, past, widened
from relations.people.rules import age_on, ripeness
from relations.people.values import Birth, Ripeness

TODAY = date(2026, 11, 23)


def one(typed: str, usual: Calendar = Calendar.GREGORIAN) -> Reading:
    (found,) = readings(typed, usual)
    return found


@pytest.mark.parametrize(
    "typed, age",
    [
        *(
            (said, Age(17, 17))
            for said in ("17", "17 ans", "१७", "१७ वर्ष", "١٧", "۱۷ سال", "age 17")
        ),
        *((said, Age(17, 17)) for said in ("il a 17 ans", "17 years old", "17 yrs")),
        *((said, Age(16, 20)) for said in ("about 18", "~18", "env. 18 ans", "vers 18", "± 18")),
        *((said, Age(16, 20)) for said in ("حوالي ١٨", "करिब १८", "१८ वर्ष लगभग", "18 ca.")),
        ("17-18", Age(17, 18)),
        ("17–18 ans", Age(17, 18)),
        ("17 à 18 ans", Age(17, 18)),
        ("17 or 18", Age(17, 18)),
        ("about 17-18", Age(15, 20)),
        ("about 1", Age(0, 3)),
        ("0", Age(0, 0)),
        ("120", Age(120, 120)),
    ],
)
def test_an_age_is_read_in_any_digits(typed, age):
    assert age_said(typed) == age


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "about",
        "eighteen",
        "121",
        "18-17",
        "17 18 19",
        "17 months",
        "17 cats",
        "2008",
        "17.18",
        "17 18",
        "17-",
    ],
)
def test_what_is_no_age_is_not_read(typed):
    assert age_said(typed) is None


@given(
    st.integers(0, 100),
    st.integers(0, 6),
    st.dates(date(1950, 1, 1), date(2040, 12, 31)) | st.just(date(2024, 2, 29)),
)
def test_days_of_an_age_are_those_of_which_a_birth_has_this_age(low, more, on):
    """By brute force around both ends."""
    age = Age(low, low + more)
    born = born_at(age, on)
    for end in (born.earliest, born.latest):
        for step in range(-3, 4):
            day = end + timedelta(step)
            assert (age.low <= age_on(day, on) <= age.high) == (born.earliest <= day <= born.latest)


@pytest.mark.parametrize(
    "typed, days",
    [
        ("1429 AH", 1),
        ("1420 AH", 1),
        ("1419 AH", 2),
        ("5 Jestha 2062", 1),
        ("Jestha 2062", 1),
        ("2062 BS", 0),
        ("5 Ashadh 2062", 0),
        ("2083 BS", 0),
        ("2084 BS", 1),
        ("2008", 0),
        ("1387 SH", 0),
        ("2000 EC", 0),
        ("2551 BE", 0),
    ],
)
def test_calendars_that_may_be_off_widen_what_was_said(typed, days):
    reading = one(typed)
    assert widened(reading) == reading.interval.widened(days)


@pytest.mark.parametrize(
    "typed, kept",
    [
        ("5/3/1990", "1990"),  # of age by the year alone
        ("3/1990", "1990"),
        ("9 Mangsir 2047 BS", "2047 BS"),
        ("1/1/2008", "1/1/2008"),  # of age, but not by the year
        ("5/3/2008", "5/3/2008"),
        ("5/3/2016", "5/3/2016"),  # a child: by the day they come of age
        ("1/1/2026", "1/1/2026"),
        ("1990", "1990"),
    ],
)
def test_year_alone_is_kept_where_it_says_as_surely_that_they_are_of_age(typed, kept):
    found, expected = enough(one(typed), TODAY), one(kept)
    assert (found.calendar, found[1:5]) == (expected.calendar, expected[1:5])


def test_day_in_a_year_that_is_not_whole_in_its_calendar_stays():
    assert enough(one("20/5/1892 EC"), TODAY).day == 20
    ahead = one("30 Poush 2090 BS")
    # Of a year that has not begun nothing is worked out.
    assert enough(ahead, TODAY) is ahead


@given(st.dates(date(1944, 5, 1), TODAY), st.sampled_from(list(Calendar)))
def test_what_is_kept_gives_the_same_answer_as_what_was_said(born, calendar):
    parts = to_local(born, calendar)[1:4]
    said = Reading(calendar, *parts, Interval(born, born), is_figures=True)
    kept, whole = (widened(each).until(TODAY) for each in (enough(said, TODAY), said))
    assert kept.earliest <= born <= kept.latest
    answers = {ripeness(Birth(each.earliest, each.latest), TODAY) for each in (kept, whole)}
    assert len(answers) == 1


def test_readings_of_which_no_day_has_come_are_no_births():
    found = readings("1429")
    assert [each.calendar for each in past(found, TODAY)] == [Calendar.HIJRI]
    assert past(readings("2027"), TODAY) == ()


@given(st.dates(date(1930, 1, 1), TODAY), st.integers(0, 900))
def test_ages_and_the_answer_equal_those_of_every_day_of_the_interval(first, days):
    """By brute force over every possible birthday."""
    birth = Birth(first, min(first + timedelta(days), TODAY))
    every = [age_on(first + timedelta(n), TODAY) for n in range((birth.latest - first).days + 1)]
    assert ages(birth, TODAY) == (min(every), max(every))
    grown = {age >= 18 for age in every}
    expected = {(True,): Ripeness.ADULT, (False,): Ripeness.CHILD}.get(
        tuple(grown), Ripeness.UNSURE
    )
    assert ripeness(birth, TODAY) is expected
