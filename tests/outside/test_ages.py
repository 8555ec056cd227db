"""Ages and birth years against worked values; [P] run with a package, [H] worked by hand."""

from datetime import date

import pytest

from relations.languages.reading_days import readings
from relations.people.births import age_said, ages, born_at, widened
from relations.people.rules import age_on, ripeness
from relations.people.values import Birth, Ripeness


@pytest.mark.parametrize(
    ("born", "on", "age"),
    [
        # [P] dateutil's relativedelta says 18 here; the (month, day) rule is later and safer.
        ("2008-02-29", "2026-02-28", 17),
        ("2008-02-29", "2026-03-01", 18),  # [P] dateutil agrees
        ("2008-06-15", "2026-06-14", 17),  # [P] dateutil agrees
        ("2008-06-15", "2026-06-15", 18),  # [P] dateutil agrees
        ("2008-02-29", "2024-02-29", 16),  # [P] dateutil agrees
    ],
)
def test_age_on_a_day(born: str, on: str, age: int) -> None:
    assert age_on(date.fromisoformat(born), date.fromisoformat(on)) == age


def test_year_only_is_surely_of_age_on_31_december_of_year_and_18() -> None:
    # [H] as if born on the last day of the year.
    year = Birth.in_year(2008)
    assert ripeness(year, date(2026, 12, 30)) is Ripeness.UNSURE
    assert ripeness(year, date(2026, 12, 31)) is Ripeness.ADULT
    assert ripeness(year, date(2025, 12, 31)) is Ripeness.CHILD


def test_child_is_under_eighteen() -> None:
    # [M] UN Convention on the Rights of the Child, article 1: from memory, not verified. An
    # earlier majority under the law that applies is not used: 18 everywhere.
    born = Birth.on(date(2008, 11, 24))
    assert ripeness(born, date(2026, 11, 23)) is Ripeness.CHILD
    assert ripeness(born, date(2026, 11, 24)) is Ripeness.ADULT


@pytest.mark.parametrize(
    "said, low, high, answer",
    # Value from languages.md 1.5: on 25 November 2026, limit 18; [V] there by brute force.
    [
        ("2008", 17, 18, Ripeness.UNSURE),
        ("BS 2065", 17, 18, Ripeness.UNSURE),
        ("BS 2064", 18, 19, Ripeness.ADULT),
        ("AH 1429", 17, 18, Ripeness.UNSURE),
        ("Ethiopian 2000", 18, 19, Ripeness.ADULT),
        ("Ethiopian 2001", 17, 18, Ripeness.UNSURE),
    ],
)
def test_years_that_were_said_give_the_ages_of_the_table(
    said: str, low: int, high: int, answer: Ripeness
) -> None:
    on = date(2026, 11, 25)
    (reading,) = readings(said)
    kept = widened(reading).until(on)
    birth = Birth(kept.earliest, kept.latest)
    assert ages(birth, on) == (low, high)
    assert ripeness(birth, on) is answer


@pytest.mark.parametrize(
    "said, earliest, latest, low, high",
    # Value from languages.md 1.5: said on 1 March 2026, asked on 25 November 2026.
    [
        ("17", "2008-03-02", "2009-03-01", 17, 18),
        ("about 18", "2005-03-02", "2010-03-01", 16, 21),
    ],
)
def test_ages_that_were_said_give_the_days_of_the_table(
    said: str, earliest: str, latest: str, low: int, high: int
) -> None:
    age, on = age_said(said), date(2026, 11, 25)
    assert age is not None
    born = born_at(age, date(2026, 3, 1))
    assert (str(born.earliest), str(born.latest)) == (earliest, latest)
    birth = Birth(born.earliest, born.latest)
    assert ages(birth, on) == (low, high)
    assert ripeness(birth, on) is Ripeness.UNSURE
