"""What may be drawn, and whose names are opened for it."""

import pytest
from django.http import Http404

from relations.people.models import Introduction
from relations.referrals import scopes
from relations.referrals.scopes import By, House, opened
from tests import cast

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def people() -> None:
    cast.herve()
    cast.bruno()
    cast.ibrahima()


def test_lines_come_first_then_groups_the_largest_before_the_others_and_everybody_last() -> None:
    found = [(one.by, one.of, one.people) for one in House().scopes]
    assert found == [
        ("line", "01", 5), ("line", "X2", 1),
        ("group", "none", 4), ("group", "aulne", 1), ("group", "erable", 1),
        ("whole", "all", 6),
    ]  # fmt: skip


def test_a_scope_has_its_people_and_everybody_no_bound() -> None:
    house = House()
    assert house.codes(house.scope("line", "x2")) == {"35"}
    assert house.codes(house.scope("group", "none")) == {"12", "19", "28", "41"}
    assert house.codes(house.scope("group", "aulne")) == {"01"}
    assert house.codes(house.scope("whole", "all")) is None


@pytest.mark.parametrize(
    ("by", "of"), [("line", "99"), ("group", "oak"), ("whole", "01"), ("face", "01"), ("line", "")]
)
def test_what_is_not_there_is_absent(by: str, of: str) -> None:
    with pytest.raises(Http404):
        House().scope(by, of)


def test_those_of_a_withheld_introducer_are_a_line_of_their_own() -> None:
    Introduction.objects.filter(person__code="35").update(outside=None, is_withheld=True, wave=1)
    house = House()
    scope = house.scope("line", "withheld")
    assert (scope.words, house.codes(scope)) == ("Through somebody withheld", {"35"})


def test_only_a_group_has_a_key() -> None:
    assert [one.group for one in House().scopes] == [None, None, "", "aulne", "erable", None]


def test_names_are_opened_for_those_of_the_scope_alone_and_for_who_is_outside() -> None:
    scope = House().scope("line", "X2")
    house = opened(cast.artist(), scope)
    assert house.names == {"35": "Ibrahima", "X2": "Seamen’s chaplaincy"} | {
        key: name for key, name in house.names.items() if key == "X2"
    }
    assert (house.label("35"), house.label("01")) == ("Ibrahima", "01")


def test_too_many_people_are_cut_to_those_with_most_behind_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(scopes, "MOST", 3)
    house = House()
    plan, left = house.drawn(house.scope("line", "01"))
    assert (plan.only, left) == ({"01", "12", "28"}, 2)
    plan, left = house.drawn(house.scope("whole", "all"))
    assert (plan.only, left) == ({"01", "12", "28"}, 3)


def test_marks_bear_codes_until_names_are_opened() -> None:
    house = House()
    assert {mark.label for mark in house.marks.values()} == {"01", "12", "19", "28", "35", "41"}
    named = opened(cast.artist(), house.scope(By.WHOLE, "all"))
    assert named.marks["41"].label == "Hervé"
