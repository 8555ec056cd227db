from datetime import date, timedelta

import pytest

from relations.languages import checks
from relations.languages.local_calendars import confirmed_until


@pytest.mark.parametrize("days, speaks", [(-61, False), (-60, True), (0, True), (400, True)])
def test_next_year_is_asked_for_from_sixty_days_before_the_confirmed_ones_end(days, speaks):
    said = checks.almanac(confirmed_until() + timedelta(days))
    assert [message.id for message in said] == ["languages.W001"] * speaks


def test_caution_names_the_last_day_and_the_file():
    [said] = checks.almanac(date(2027, 4, 1))
    assert "13 April 2027" in said.msg
    assert "relations/languages/bikram_sambat.csv" in said.hint
    assert not said.is_serious(), "the site starts all the same"


@pytest.mark.parametrize("day, count", [(date(2026, 11, 23), 0), (date(2027, 3, 1), 1)])
def test_day_that_stands_still_is_the_day_of_the_check(settings, day, count):
    settings.RELATIONS_TODAY = day
    assert len(checks.almanac_of_today(app_configs=None)) == count


def test_without_such_a_day_the_clock_is_asked(settings, monkeypatch):
    settings.RELATIONS_TODAY = None
    monkeypatch.setattr(checks.timezone, "localdate", lambda: date(2027, 3, 1))
    assert len(checks.almanac_of_today()) == 1
