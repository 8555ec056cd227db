"""The words for codes, as templates ask for them."""

import re
from datetime import UTC, date, datetime

import pytest
from django.template import Context, Template
from django.template.loader import get_template
from django.utils import translation

from relations.languages.direction import strip_marks
from relations.languages.local_calendars import Calendar
from relations.languages.manner import Figures, Manner, speaking
from relations.people.models import Introduction, OutsideIntroducer, Participant
from tests import cast


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


def test_a_script_is_named_in_the_readers_language() -> None:
    assert said("{{ 'Deva'|script }}, {{ 'Qaax'|script }}") == "Devanagari, Qaax"
    with translation.override("fr"):
        assert said("{{ 'Arab'|script }}") == "arabe"


def of(person: Participant, words: str, **more: object) -> str:
    context = Context({"person": person, **more})
    return strip_marks(Template("{% load people_words %}" + words).render(context))


def test_whether_somebody_is_of_age_is_said_with_their_years() -> None:
    words = "{{ person|ripeness }}: {{ person|age }}"
    born = {"born_earliest": date(2008, 1, 1), "born_latest": date(2008, 12, 31)}
    assert of(Participant(**born), words) == "perhaps under age: taken as under age: 17–18"
    grown = Participant(born_earliest=date(1990, 3, 5), born_latest=date(1990, 3, 5))
    assert of(grown, words) == "of age: 36"
    child = Participant(born_earliest=date(2016, 3, 5), born_latest=date(2016, 3, 5))
    assert of(child, words) == "under age: 10"
    assert of(Participant(), words) == "age not known: "
    assert of(Participant(met_as_adult=True), words) == "of age: "


def test_years_stand_in_the_readers_figures() -> None:
    born = {"born_earliest": date(2008, 1, 1), "born_latest": date(2008, 12, 31)}
    with translation.override("ne"), speaking(Manner("ne")):
        assert of(Participant(**born), "{{ person|age }}") == "१७–१८"
    with translation.override("ar"), speaking(Manner("ar", Figures.OWN)):
        assert of(Participant(**born), "{{ person|age }}") == "١٧–١٨"


def test_a_day_is_said_in_their_calendar_unless_the_reader_has_it_already() -> None:
    words, day = "{{ on|theirs:person }}", date(2026, 11, 25)
    sitter = Participant(languages="fr ne", calendar="bikram_sambat")
    assert of(sitter, words, on=day) == " (9 Mangsir 2083 BS)"
    # A moment is of the day here, where it is past midnight.
    assert "10 Mangsir" in of(sitter, words, on=datetime(2026, 11, 25, 23, 30, tzinfo=UTC))
    assert of(sitter, words, on=None) == ""
    assert of(sitter, words, on=date(1900, 1, 1)) == ""
    assert of(Participant(languages="fr ne"), words, on=day) == ""
    assert of(Participant(languages="fa fr"), words, on=day) == " (4 Azar 1405 SH)"
    assert of(Participant(languages="fa", calendar="gregorian"), words, on=day) == ""
    with speaking(Manner("en", calendar=Calendar.BIKRAM_SAMBAT)):
        assert of(sitter, words, on=day) == ""


def test_languages_are_named_in_the_order_they_were_told_in() -> None:
    context = Context({"tags": ["fr", "ar"]})
    shown = Template("{% load people_words words %}{{ tags|all_spoken|listed }}").render(context)
    assert re.sub("<[^>]*>", "", shown) == "French and Arabic"


@pytest.mark.django_db
def test_how_word_came_is_one_sentence_for_each_way() -> None:
    def came(**through: object) -> str:
        told = Introduction(heard_on=date(2024, 3, 4), **through)
        page = get_template("people/_word_came.html").render({"told": told})
        return re.sub("<[^>]*>", "", page).strip()

    bruno, outside = cast.bruno(), OutsideIntroducer(code="O3")
    assert came(introducer=bruno) == f"4 March 2024: word came through {bruno.code}"
    assert came(outside=outside) == "4 March 2024: word came through O3"
    assert came(is_withheld=True) == "4 March 2024: word came through somebody withheld"
    assert came() == "4 March 2024: it was our own start"
