"""Finding whom somebody means by what they say."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from relations.people import search
from relations.people.models import Name
from relations.privacy.fields import SealedField
from tests import cast

pytestmark = pytest.mark.django_db


def found(typed: str) -> list[str]:
    return [person.code for person in search.find(typed)]


def test_a_code_is_found_in_any_case() -> None:
    cast.person("7KM4A", "Nour")
    assert found("7km4a") == ["7KM4A"]


def test_a_number_finds_everyone_on_the_line_however_it_is_typed() -> None:
    cast.bruno()
    assert found("04 65 71 00 12") == ["12", "19"]
    assert found("+33465710012") == ["12", "19"]
    assert found("٠٤٦٥٧١٠٠١٢") == ["12", "19"]


def test_an_ended_line_finds_nobody() -> None:
    line = cast.marcel().lines.get()
    line.ended_on = cast.TODAY
    line.save()
    assert found("04 65 71 00 01") == []


def test_a_number_abroad_is_read_in_its_country() -> None:
    cast.marcel()
    assert search.by_number("04 65 71 00 01", "ES") == []


def test_a_call_name_is_found_without_case_and_accents() -> None:
    cast.herve()
    assert found("HERVE") == ["41"]
    assert found("hervé") == ["41"]


def test_a_name_in_another_script_is_found() -> None:
    cast.rachid()
    cast.daud()
    assert found("رشيد") == ["17"]
    assert found("দাউদ") == ["42"]


def test_a_spelling_finds_its_person_and_a_name_never_to_be_printed_does_not() -> None:
    rachid = cast.rachid()
    Name.objects.create(person=rachid, kind="spelling", text="Rachid Ouldamer", script="Latn")
    Name.objects.create(person=rachid, kind="never_print", text="Zaccaria")
    assert found("ouldamer") == ["17"]
    assert found("zaccaria") == []


def test_part_of_a_latin_word_is_like_a_name_and_brings_nobody_into_sight() -> None:
    cast.marcel()
    assert found("marc") == ["01"]
    assert search.by_name("marc") == []


@pytest.mark.parametrize(
    ("typed", "code"),
    [("Rashid", "17"), ("راشد", "17"), ("Dawud Oliulla", "42"), ("daoud", "42"), ("দাউদ", "42")],
)
def test_a_name_is_found_by_any_spelling_in_any_script(typed: str, code: str) -> None:
    cast.marcel()
    daud = cast.daud()
    Name.objects.create(person=daud, kind="own", text="দাউদ ওলিউল্লাহ", script="Beng")
    cast.rachid()
    assert found(typed)[0] == code


def test_the_very_words_come_before_what_is_only_like_them() -> None:
    for code, name in (("90", "Sita"), ("91", "Seeta"), ("92", "Sita Rai")):
        cast.person(code, name)
    assert found("sita") == ["90", "92", "91"]


def test_at_most_twenty_are_shown() -> None:
    for at in range(25):
        cast.person(f"S{at:02}", "Sita")
    assert len(found("Seeta")) == search.SHOWN == 20


def test_who_may_be_the_same_is_like_enough_and_never_themselves() -> None:
    herve, rachid = cast.herve(), cast.rachid()
    other = cast.person("90", "Rashid")
    assert search.same("رشيد", but=other) == [rachid]
    assert search.same("Hervé", but=herve) == []
    assert search.same("") == []


@pytest.mark.parametrize("typed", ["", " ", "a", "…", "Xylophone Quartz"])
def test_little_or_nothing_finds_nobody(typed: str) -> None:
    cast.marcel()
    assert found(typed) == []


def test_a_search_opens_no_name_again_and_asks_as_much_among_many_as_among_few(monkeypatch) -> None:
    """Names are opened once, in memory: with each search anew it took seconds among thousands."""
    asked = []
    for at in range(30):
        cast.person(f"S{at:02}", "Sita")
        if at in (2, 29):
            search.find("Sita")
            with monkeypatch.context() as patch, CaptureQueriesContext(connection) as heard:
                patch.setattr(SealedField, "unsealed", lambda *_: pytest.fail("opened again"))
                assert len(search.find("Sita")) == min(at + 1, search.SHOWN)
            asked.append(len(heard))
    assert asked == [5, 5]
