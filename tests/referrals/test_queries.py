"""The read of the whole web."""

import pytest
from pytest_django import DjangoAssertNumQueries

from relations.meetings.models import Call, Meeting
from relations.people.models import Introduction, Participant, PersonHold
from relations.prints.models import Print
from relations.referrals import queries
from relations.referrals.values import Known
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db


def test_introductions_are_codes_in_the_order_of_being_reached(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    cast.herve()
    cast.ibrahima()
    with django_assert_num_queries(2):
        lines = queries.introductions()
    assert [(line.code, line.reached.first, line.reached.wave) for line in lines] == [
        ("01", "", 0), ("12", "01", 1), ("35", "X2", 1), ("28", "12", 2), ("41", "28", 3),
    ]  # fmt: skip
    assert [line.code for line in lines if line.is_outside] == ["35"]
    assert [(lines[0].told_of, lines[0].came_of)] == [(1, 3)]


def test_a_withheld_link_names_nobody() -> None:
    cast.danuta()
    Introduction.objects.filter(person__code="12").update(introducer=None, is_withheld=True, wave=1)
    line = next(line for line in queries.introductions() if line.code == "12")
    assert (line.reached.first, line.reached.wave, line.reached.is_withheld) == ("", 1, True)


def test_what_is_known_of_everybody_is_read_in_five_queries_and_opens_no_sealed_field(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    cast.herve()
    cast.ibrahima()
    with django_assert_num_queries(5) as read:
        known = queries.known()
    assert sorted(known) == ["01", "12", "28", "35", "41"]
    assert not [one for one in read.captured_queries if "call_name" in one["sql"]]


def test_who_was_asked_and_who_was_met_is_told_by_rings_meetings_and_standing() -> None:
    by, fresh = cast.artist(), cast.person("90", "Nour")
    assert (known_of(fresh).was_asked, known_of(fresh).was_met) == (False, False)
    make(Call, person=fresh, state="planned", due_on=cast.TODAY)
    make(Call, person=fresh, state="spoke", at=cast.moment(), by=by, by_them=True)
    assert not known_of(fresh).was_asked
    make(Call, person=fresh, state="spoke", at=cast.moment(), by=by)
    assert (known_of(fresh).was_asked, known_of(fresh).was_met) == (True, False)
    make(Meeting, person=fresh, state="held", at=cast.moment())
    assert (known_of(fresh).was_asked, known_of(fresh).was_met) == (True, True)
    thinking = cast.person("91", "Ana", "thinking_it_over")
    assert (known_of(thinking).was_asked, known_of(thinking).was_met) == (True, False)
    sat = cast.person("92", "Ida", "taking_part")
    assert (known_of(sat).has_sat, known_of(sat).was_met) == (True, True)


def test_prints_in_hand_and_owed_and_holds_are_known_by_code() -> None:
    person = cast.person("90", "Nour", "taking_part")
    make(Print, person=person, state="in_hand")
    assert (known_of(person).has_print, known_of(person).owes_print) == (True, False)
    make(Print, person=person, state="owed")
    assert (known_of(person).has_print, known_of(person).owes_print) == (True, True)
    make(PersonHold, person=person)
    assert known_of(person).is_held
    PersonHold.objects.update(lifted_at=cast.moment(), lifted_by=cast.artist(), sentence="Home.")
    assert not known_of(person).is_held


def test_hopes_names_and_thanks_are_read_by_key_and_code() -> None:
    cast.aulne()
    cast.chaplaincy()
    assert queries.hopes() == {"aulne": None}
    assert queries.group_names() == {"aulne": "Aulne"}
    assert queries.outside_thanked() == {"X2": None}


def test_everybody_is_drawn_by_code_alone() -> None:
    cast.marcel()
    (mark,) = queries.drawn(queries.known().values()).values()
    assert (mark.code, mark.label, mark.has_sat) == ("01", "01", True)


def known_of(person: Participant) -> Known:
    return queries.known()[person.code]
