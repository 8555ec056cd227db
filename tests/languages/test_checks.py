import os
from datetime import date, timedelta
from pathlib import Path

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


@pytest.fixture
def words(settings, tmp_path: Path) -> Path:
    """The catalogue of a site that speaks English and French, built just now."""
    settings.LANGUAGES = [("en", "English"), ("fr", "Français")]
    settings.LOCALE_PATHS = [tmp_path]
    path = tmp_path / "fr/LC_MESSAGES/django.po"
    path.parent.mkdir(parents=True)
    path.touch()
    path.with_suffix(".mo").touch()
    return path


def said(words: Path) -> list[str]:
    messages = checks.catalogues(app_configs=None)
    assert all(" fr " in message.msg and message.hint for message in messages)
    return [message.id for message in messages]


def test_built_catalogue_of_each_language_is_well(words):
    assert said(words) == []


def test_language_without_a_catalogue_stops_the_site(words):
    words.unlink()
    assert said(words) == ["languages.E001"]


def test_language_whose_catalogue_is_not_built_stops_the_site(words):
    words.with_suffix(".mo").unlink()
    assert said(words) == ["languages.E002"]
    assert checks.catalogues()[0].hint == "Run: python3 manage.py build_translations"


def test_catalogue_older_than_its_words_is_named(words):
    built = words.with_suffix(".mo").stat().st_mtime
    os.utime(words, (built, built))
    assert said(words) == []
    os.utime(words, (built + 1, built + 1))
    assert said(words) == ["languages.W002"]
    assert not checks.catalogues()[0].is_serious(), "the words of before are words"


def test_language_with_a_region_lies_under_its_own_folder(words, settings):
    settings.LANGUAGES = [("en", "English"), ("pt-br", "Português")]
    [message] = checks.catalogues()
    assert message.hint.startswith("Add locale/pt_BR/LC_MESSAGES/django.po")


def test_the_sites_own_languages_are_well():
    assert checks.catalogues() == []
