"""The words for codes, as templates ask for them."""

from datetime import date

from django.template import Context, Template
from django.utils import translation


def said(words: str) -> str:
    return Template("{% load people_words %}" + words).render(Context())


def test_codes_have_words_and_an_unknown_one_has_none() -> None:
    assert said("{{ 'taking_part'|standing }}") == "taking part"
    assert said("{{ 'grave'|level }}|{{ ''|level }}") == "grave|"
    assert said("{{ 'cannot_answer'|condition }}") == "cannot answer for now"
    assert said("{{ 'never_print'|kind_of_name }}") == "never to be printed"
    assert said("{{ 'rang_us'|work }}") == "rang us"
    assert said("{{ 'nothing'|standing }}") == ""


def test_days_and_languages_are_named_in_the_readers_language() -> None:
    assert said("{{ 'fr'|spoken }}, {{ 1|weekday }}") == "French, Tuesday"
    with translation.override("fr"):
        assert said("{{ 'fr'|spoken }}, {{ 1|weekday }}") == "français, mardi"


def test_a_day_of_word_is_said_no_finer_than_it_is_known() -> None:
    context = Context({"on": date(2024, 3, 1)})

    def when(precision: str) -> str:
        words = "{% load people_words %}{{ on|heard:'" + precision + "' }}"
        return Template(words).render(context)

    assert [when(one) for one in ("day", "month", "year")] == ["1 March 2024", "Mar 2024", "2024"]
    with translation.override("fr"):
        assert when("month") == "mars 2024"


def test_a_language_without_a_name_stays_its_tag() -> None:
    assert said("{{ 'lsf'|spoken }}") == "French sign language"
    assert said("{{ 'und'|spoken }}") == "not known"
    assert said("{{ 'qqx'|spoken }}") == "qqx"
