"""Days as people say them."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages.calendars import FutureDayError, Interval, parse_said
from relations.languages.digits import to_native

DAY = Interval(date(2008, 3, 5), date(2008, 3, 5))


@pytest.mark.parametrize(
    "typed",
    [
        "2008-03-05",
        "2008/3/5",
        "5/3/2008",
        "05.03.2008",
        "5 3 2008",
        " 05-03-2008 ",
        "\u200e2008-03-05\u200e",
        "٢٠٠٨-٠٣-٠٥",
        "२००८-०३-०५",
        "৫/৩/২০০৮",
    ],
)
def test_an_exact_day_is_read_day_first(typed: str) -> None:
    assert parse_said(typed) == DAY
    assert DAY.is_exact


def test_a_year_is_all_its_days() -> None:
    assert parse_said("2008") == Interval(date(2008, 1, 1), date(2008, 12, 31))
    assert parse_said("२००८") == parse_said("2008")


@pytest.mark.parametrize("typed", ["02/2008", "2/2008", "2008-02", "02 2008"])
def test_a_month_is_all_its_days(typed: str) -> None:
    said = parse_said(typed)
    assert said == Interval(date(2008, 2, 1), date(2008, 2, 29))
    assert not said.is_exact


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "about 18",
        "18",
        "05/03/08",
        "31/4/2008",
        "29/2/2009",
        "0/3/2008",
        "5/13/2008",
        "13/2008",
        "00/2008",
        "5-3/2008",
        "1429",
        "1403-01-01",
        "0000",
        "2008-03-05 10:00",
        "5 March 2008",
    ],
)
def test_what_is_no_day_of_ours_is_not_guessed(typed: str) -> None:
    assert parse_said(typed) is None


@pytest.mark.parametrize("typed", ["2026-11-24", "24/11/2026", "12/2026", "2027", "2065"])
def test_the_future_is_refused_when_today_is_known(typed: str) -> None:
    assert parse_said(typed) is not None
    with pytest.raises(FutureDayError):
        parse_said(typed, today=date(2026, 11, 23))


@pytest.mark.parametrize(
    ("typed", "earliest"),
    [
        ("2026", date(2026, 1, 1)),
        ("11/2026", date(2026, 11, 1)),
        ("23/11/2026", date(2026, 11, 23)),
    ],
)
def test_an_interval_that_runs_past_today_ends_on_it(typed: str, earliest: date) -> None:
    today = date(2026, 11, 23)
    assert parse_said(typed, today=today) == Interval(earliest, today)


def test_an_interval_wholly_past_stays_whole() -> None:
    assert parse_said("2008", today=date(2026, 11, 23)) == parse_said("2008")


@given(st.dates(min_value=date(1583, 1, 1)), st.sampled_from(["fr", "ar", "fa", "ne", "bn"]))
def test_every_day_is_read_back_in_every_script(day: date, lang: str) -> None:
    exact = Interval(day, day)
    assert parse_said(to_native(day.isoformat(), lang)) == exact
    assert parse_said(to_native(f"{day.day}/{day.month}/{day.year:04d}", lang)) == exact


@given(st.dates(min_value=date(1583, 1, 1)))
def test_a_day_lies_in_its_month_and_its_year(day: date) -> None:
    for typed in (f"{day.month}/{day.year:04d}", f"{day.year:04d}"):
        said = parse_said(typed)
        assert said is not None
        assert said.earliest <= day <= said.latest


def test_an_interval_cannot_end_before_it_begins() -> None:
    with pytest.raises(ValueError, match="before it begins"):
        Interval(date(2008, 1, 2), date(2008, 1, 1))
