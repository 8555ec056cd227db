"""The drawings of the introductions, with their words."""

import re

import pytest
from django.http import Http404

from relations.people.models import Introduction
from relations.referrals import drawn, scopes
from relations.referrals.drawn import Picture, by_steps, largest, of_one, picture
from relations.referrals.scopes import House, opened
from tests import cast

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def people(request: pytest.FixtureRequest) -> None:
    if "nobody" not in request.node.name:
        cast.herve()
        cast.bruno()
        cast.ibrahima()


def links(found: Picture) -> list[str]:
    return re.findall(r'href="#p(\w+)"', found.svg)


def test_marks_and_table_hold_the_same_people_in_the_same_order() -> None:
    house = House()
    for scope in house.scopes:
        for found in (picture(house, scope), by_steps(house, scope)):
            assert links(found) == [one.code for one in found.told] != []


def test_a_picture_says_all_of_everybody_and_no_name() -> None:
    house = House()
    found = picture(house, house.scope("line", "01"))
    assert (found.all_people, found.is_named, found.left_out) == (6, False, 0)
    assert [(one.code, one.source, one.also) for one in found.told] == [
        ("01", "ourselves", ""), ("12", "01", ""), ("19", "12", "also 01"),
        ("28", "12", ""), ("41", "28", ""),
    ]  # fmt: skip
    assert found.is_told_again
    assert not re.search("Danuta|Herv|Bruno", found.svg)
    assert [one.words for one in found.key] == [
        "Aulne", "No group noted", "has sat", "print in hand",
    ]  # fmt: skip


def test_names_stand_in_the_place_of_codes_where_they_were_opened() -> None:
    scope = House().scope("line", "01")
    found = picture(opened(cast.artist(), scope), scope)
    assert "Hervé" in found.svg
    assert found.is_named
    assert [one.label for one in found.told if one.code == "12"] == ["Danuta"]
    assert 'width="860"' in found.svg


def test_steps_have_a_column_each_with_its_number_of_people() -> None:
    house = House()
    found = by_steps(house, house.scope("whole", "all"))
    assert found.columns == [(0, 1), (1, 2), (2, 2), (3, 1)]


def test_one_person_has_the_way_to_them_whom_they_told_of_and_curves_of_who_told_again() -> None:
    found = of_one(House(), "12")
    assert links(found) == ["01", "12", "19", "28"]
    assert found.svg.count("stroke-dasharray") == 1  # only the sign for use, no curve
    found = of_one(House(), "19")
    assert found.svg.count("stroke-dasharray") == 2
    assert found.scope.words == "The way to 19"
    with pytest.raises(Http404):
        of_one(House(), "99")


def test_the_way_to_somebody_begins_outside_where_they_came_from_there() -> None:
    assert ">X2<" in of_one(House(), "35").svg


def test_too_many_people_are_drawn_by_line_and_it_says_how_many_are_left_out(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(drawn, "MOST", 3)
    monkeypatch.setattr(scopes, "MOST", 3)
    monkeypatch.setattr(drawn, "MOST_LINES", 1)
    monkeypatch.setattr(scopes, "MOST_LINES", 1)
    house = House()
    found = picture(house, house.scope("whole", "all"))
    assert (found.kind, found.left_out, links(found)) == ("lines", 1, [])
    assert [(one.of, one.people) for one in found.lines] == [("01", 5)]
    assert "01: 5" in found.svg
    assert picture(house, house.scope("line", "01")).left_out == 2


def test_the_largest_line_is_there_for_the_page_that_shows_one() -> None:
    found = largest()
    assert found is not None
    assert found.scope.of == "01"


def test_with_nobody_there_is_no_largest_line() -> None:
    assert largest() is None


def test_what_cannot_be_drawn_stands_under_it() -> None:
    Introduction.objects.filter(person__code="12").update(heard_on="2020-01-01")
    house = House()
    found = picture(house, house.scope("whole", "all"))
    assert "12 is not drawn: 01 told us before we knew 01." in found.under
