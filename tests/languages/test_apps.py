from datetime import date

from django.core.checks import run_checks


def test_start_up_speaks_of_the_table_that_ends(settings):
    settings.RELATIONS_TODAY = date(2027, 3, 1)
    assert "languages.W001" in [message.id for message in run_checks()]
    settings.RELATIONS_TODAY = date(2026, 11, 23)
    assert "languages.W001" not in [message.id for message in run_checks()]


def test_start_up_speaks_of_a_language_without_its_words(settings, tmp_path):
    settings.LOCALE_PATHS = [tmp_path]
    said = [message.id for message in run_checks()]
    assert said.count("languages.E001") == len(settings.LANGUAGES) - 1
