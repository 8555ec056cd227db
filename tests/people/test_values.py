"""What the rules about people take opens nothing where it is left unset."""

from datetime import date

import pytest

from relations.people.values import Birth, Clocks, Condition, Facts, Risk, Vouching

TODAY = date(2026, 11, 23)


def test_known_day_is_the_earliest_and_the_latest() -> None:
    assert Birth.on(TODAY) == Birth(TODAY, TODAY)


def test_year_only_runs_from_its_first_to_its_last_day() -> None:
    assert Birth.in_year(2008) == Birth(date(2008, 1, 1), date(2008, 12, 31))


def test_birth_that_ends_before_it_begins_is_refused() -> None:
    with pytest.raises(ValueError, match="before"):
        Birth(date(2008, 1, 2), date(2008, 1, 1))


def test_levels_rise() -> None:
    assert list(Risk) == [Risk.ORDINARY, Risk.RAISED, Risk.GRAVE]


def test_unset_facts_are_no() -> None:
    facts = Facts(on=TODAY, since=TODAY)
    assert facts.vouching == Vouching()
    assert facts.condition is Condition.WELL
    assert not any((facts.came_to_us, facts.has_new_form, facts.has_ending, facts.tries))
    assert Vouching().asked_first is None and not Vouching().may_vouch


def test_clocks_have_the_defaults_of_the_project() -> None:
    # Common practice, no source: proposals that are settings.
    assert Clocks() == Clocks(60, 30, 365, 90, 14, 3, 3, 4)
