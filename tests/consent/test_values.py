"""What the weighing takes opens nothing where it is left unset."""

from datetime import date

import pytest

from relations.consent.values import FINENESS, INK, Form, NameForm, Person, Use, Windows, Wish
from relations.people.values import Condition, Risk
from relations.pictures.values import PlaceWord

BARE = Form(date(2026, 5, 20), frozenset({"s1"}), frozenset())


@pytest.mark.parametrize(
    ("risk", "plain", "ink"), [("ordinary", 730, 365), ("raised", 180, 60), ("grave", 30, 14)]
)
def test_window_of_each_level_plain_and_for_ink(risk: str, plain: int, ink: int) -> None:
    assert Windows().days(Risk(risk)) == plain
    assert Windows().days(Risk(risk), is_ink=True) == ink


def test_form_stands_only_when_filed_complete_and_read() -> None:
    for lacking in range(3):
        ticks = [place != lacking for place in range(3)]
        form = Form(BARE.given_on, BARE.sittings, BARE.uses, *ticks)
        assert not form.stands
    assert Form(BARE.given_on, BARE.sittings, BARE.uses, True, True, True).stands


def test_no_country_at_all_is_a_limit_and_no_line_is_none() -> None:
    given = (BARE.given_on, BARE.sittings, BARE.uses)
    assert not BARE.is_limited
    assert Form(*given, only_countries=frozenset()).is_limited
    assert Form(*given, not_countries=frozenset({"PE"})).is_limited


def test_form_left_unset_asks_for_the_least() -> None:
    assert BARE.name_form is NameForm.NONE
    assert BARE.place_word is PlaceWord.NONE
    assert (BARE.if_cannot_answer, BARE.if_died) == (Wish.ASK, Wish.ASK)
    assert BARE.childs_yes is None and BARE.guardians_yes == 0


def test_person_left_unset_is_unknown() -> None:
    person = Person("a")
    assert (person.birth, person.risk, person.last_talk_on) == (None, None, None)
    assert person.condition is Condition.WELL and not person.met_as_adult


def test_places_rise_from_none_to_the_door() -> None:
    assert sorted(PlaceWord, key=FINENESS.__getitem__) == list(PlaceWord)
    assert FINENESS[PlaceWord.NONE] < FINENESS[PlaceWord.COUNTRY] < FINENESS[PlaceWord.EXACT]


def test_ink_is_what_cannot_be_called_back() -> None:
    assert {Use.BOOK, Use.PRESS, Use.PRINT_SALE, Use.JURY} == INK
