"""The answers of one page, worked out of one read of the whole web."""

from datetime import date

import pytest
from pytest_django import DjangoAssertNumQueries

from relations.people import actions
from relations.referrals.overview import overview
from relations.referrals.threads import Rule
from tests import cast

pytestmark = pytest.mark.django_db


def test_the_whole_page_is_one_read_of_a_few_tables(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    cast.herve()
    cast.ibrahima()
    with django_assert_num_queries(10):
        web = overview(cast.TODAY, goal=1)
    assert web.ground.people == 5
    assert [(one.code, one.people) for one in web.through] == [
        ("01", 3), ("12", 2), ("28", 1), ("X2", 1),
    ]  # fmt: skip
    assert web.plan is not None
    assert web.plan.goal == 1


def test_with_nobody_every_answer_is_there_and_empty() -> None:
    web = overview(cast.TODAY, goal=3)
    assert (web.ground.people, web.through, web.came, web.open, web.thanks) == (0, (), (), (), ())
    assert (web.hoped, web.plan and web.plan.sealings) == (None, ())


def test_without_a_goal_nothing_is_sealed() -> None:
    cast.marcel()
    assert overview(cast.TODAY).plan is None


def test_hopes_are_added_up_only_over_groups_of_which_somebody_said_how_many() -> None:
    cast.danuta()
    cast.ibrahima()
    actions.hope_for(community=cast.aulne(), hoped_for=12, by=cast.artist())
    web = overview(cast.TODAY)
    assert web.hoped is not None
    assert (web.hoped.sat, web.hoped.hoped_for) == (1, 12)
    found = [(one.community, one.sat, one.missing) for one in web.groups]
    assert found == [("aulne", 1, 11), ("erable", 1, None), ("", 1, None)]


def test_the_open_threads_stand_by_rule_and_a_press_takes_one_off() -> None:
    sitter = cast.person("90", "Ida", "taking_part", community=cast.aulne())
    cast.told(sitter, cast.marcel())
    actions.hope_for(community=cast.aulne(), hoped_for=12, by=cast.artist())
    (rule,) = [one for one in overview(cast.TODAY).open if one.rule is Rule.NOT_ASKED]
    assert [one.code for one in rule.threads] == ["90"]
    actions.ask_to_tell(person=sitter, on=cast.TODAY, by=cast.artist())
    web = overview(cast.TODAY)
    assert Rule.NOT_ASKED not in [one.rule for one in web.open]
    assert (web.today.asked, web.today.thanked) == (("90",), ())
    actions.thank(introducer=cast.marcel(), on=cast.TODAY, by=cast.artist())
    actions.thank(introducer=cast.chaplaincy(), on=cast.TODAY, by=cast.artist())
    assert overview(cast.TODAY).today.thanked == ("01", "X2")
    assert overview(date(2026, 11, 25)).today.thanked == ()


def test_the_table_of_doors_has_one_cell_for_each_group_and_adds_up_to_all() -> None:
    cast.herve()
    cast.ibrahima()
    web = overview(cast.TODAY)
    columns = len(web.doors.groups)
    assert {len(row.cells) for row in web.crossings} == {columns}
    assert sum(row.told for row in web.crossings) == web.ground.people
    assert {row.way for row in web.crossings} == {"", "outside", "artist"}


def test_groups_of_one_door_name_their_doors_the_gravest_first() -> None:
    cast.ibrahima()
    cast.daud()
    (narrow,) = overview(cast.TODAY).narrow
    assert (narrow.group, narrow.people) == ("erable", 2)
    assert [(door.code, door.hanging) for door in narrow.doors] == [("01", 1), ("X2", 1)]
