"""The drawing "growth": whose label meets a line, who stands where, and what may be in it."""

import dataclasses
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from relations.referrals import graph
from relations.referrals.drawing import CODES, NAMES, Drawn, growth, lay
from relations.referrals.geometry import NOBODY_S, Growth, Size
from relations.referrals.graph import Word
from relations.referrals.values import Person
from tests.referrals.grown import drawn
from tests.referrals.touching import crossing, outside, touching

DAY = date(2024, 1, 1)


@pytest.mark.parametrize("people", [42, 60, 300])
@pytest.mark.parametrize(("size", "is_named"), [(CODES, False), (NAMES, True)])
def test_no_label_meets_a_line_a_mark_or_another_label(
    people: int, size: Size, is_named: bool
) -> None:
    found = growth(drawn(people, is_named=is_named), size)
    assert len([spot for spot in found.spots if spot.label]) > people
    assert touching(found) == crossing(found) == outside(found) == []


@settings(max_examples=25)
@given(some.integers(0, 90), some.integers(0, 999))
def test_no_label_meets_a_line_in_any_project(people: int, seed: int) -> None:
    found = growth(drawn(people, seed, is_named=True), NAMES)
    assert touching(found) == crossing(found) == outside(found) == []


def test_the_test_would_see_a_label_on_a_line() -> None:
    found = growth(drawn(60))
    moved = [dataclasses.replace(spot, label_x=spot.label_x - 60) for spot in found.spots]
    assert touching(dataclasses.replace(found, spots=moved))


def small(**rest: object) -> Drawn:
    """A, who told us of B and C, of whom B told of D; C again by B, A spoken for by D."""
    heard = [("A", ""), ("B", "A"), ("C", "A"), ("D", "B"), ("C", "B"), ("A", "D"), ("E", "X1")]
    words = [Word(who, by, DAY + timedelta(50 * n), n) for n, (who, by) in enumerate(heard)]
    web = graph.web([*words, Word("F", "", DAY + timedelta(500), 9, 2, is_withheld=True)], ["X1"])
    people = {code: Person(code, f"name {code}", "oak", has_sat=code == "A") for code in "ABCDEF"}
    return Drawn(web, people, **{"outside": {"X1": "a label"}, "groups": ("ash", "oak"), **rest})


def spot(found: Growth, code: str) -> object:
    return next(one for one in found.spots if one.code == code)


def test_a_mark_says_the_group_whether_they_sat_and_whether_they_have_their_print() -> None:
    found = growth(small(), NAMES)
    assert (spot(found, "A").shape, spot(found, "A").has_sat, spot(found, "A").has_print) == (
        1, True, False,
    )  # fmt: skip
    assert not spot(found, "B").has_sat
    plain = dataclasses.replace(small(), groups=("ash",))
    assert spot(growth(plain), "A").shape == NOBODY_S


def test_a_sixth_group_begins_the_shapes_anew() -> None:
    plain = dataclasses.replace(small(), groups=("a", "b", "c", "d", "e", "oak"))
    assert spot(growth(plain), "A").shape == 0


def test_who_is_outside_has_a_label_and_no_mark_and_counts_in_no_month() -> None:
    found = growth(small(), NAMES)
    assert (spot(found, "X1").shape, spot(found, "X1").label) == (-1, "a label")
    assert sum(month.count for month in found.months) == 6


def test_who_was_told_of_again_is_ticked_and_who_came_through_a_withheld_one_barred() -> None:
    found = growth(small(), NAMES)
    assert {one.code for one in found.spots if one.is_ticked} == {"A", "C"}
    assert {one.code for one in found.spots if one.is_withheld} == {"F"}


def test_each_line_has_the_number_of_its_people() -> None:
    found = growth(small(), NAMES)
    assert [(line.root, line.people) for line in found.lines] == [("A", 4), ("X1", 1), ("F", 1)]
    assert [line.top < line.bottom for line in found.lines] == [True] * 3


def test_trunks_are_thicker_where_more_hang() -> None:
    found = growth(small(), NAMES)
    thick = {trunk.x: trunk.thick for trunk in found.trunks}
    assert thick[spot(found, "A").x] > thick[spot(found, "B").x] > thick.get(0, 0)


def test_many_hanging_make_a_label_bold() -> None:
    heard = [Word("A", "", DAY, 0), *(Word(str(n), "A", DAY, n) for n in range(1, 6))]
    people = {code: Person(code, code) for code in ("A", *map(str, range(1, 6)))}
    found = growth(Drawn(graph.web(heard), people))
    assert [one.code for one in found.spots if one.is_bold] == ["A"]


def test_a_note_stands_after_the_label_and_a_long_one_only_where_there_is_room() -> None:
    short = spot(growth(small(notes={"D": "also B"}), CODES), "D")
    assert (short.note, short.note_x > short.label_x) == ("also B", True)
    long = "spoken for by a good many people of whom each one has a name"
    assert spot(growth(small(notes={"F": long}), CODES), "F").note == ""
    assert spot(growth(small(notes={"A": long[:30]}), CODES), "A").note == long[:30]


def test_who_is_left_without_a_label_takes_a_thin_row() -> None:
    thin = dataclasses.replace(NAMES, thin=3)
    found = growth(small(unlabelled={"B", "C", "D"}), thin)
    assert [one.label for one in found.spots if one.code in "BCD"] == ["", "", ""]
    assert found.height < growth(small(), NAMES).height - 60


def test_no_label_is_made_up_for_a_code_without_one() -> None:
    with pytest.raises(KeyError):
        growth(dataclasses.replace(small(), people={}))
    with pytest.raises(KeyError):
        growth(dataclasses.replace(small(), outside={}))


def test_only_some_are_drawn_when_only_some_are_asked_for() -> None:
    found = growth(small(only={"B", "D", "E"}), NAMES)
    assert [one.code for one in found.spots] == ["B", "D", "X1", "E"]


def test_nobody_is_an_empty_sheet() -> None:
    found = growth(Drawn(graph.web([]), {}))
    assert (found.spots, found.trunks, found.twigs, found.lines) == ([], [], [], [])


def test_a_sheet_that_is_cut_leads_on_to_the_next_and_begins_with_who_went_before() -> None:
    laid = lay(small(), NAMES)
    codes = [row.code for row in laid.rows]
    assert codes == ["A", "C", "B", "D", "X1", "E", "F"]
    first = laid.sheet([(0, False), (1, False)])
    assert [(trunk.is_open, trunk.bottom) for trunk in first.trunks] == [(True, first.bottom)]
    second = laid.sheet([(0, True), (2, False), (3, False)])
    assert [one.is_again for one in second.spots] == [True, False, False]
    assert [(line.root, line.is_again) for line in second.lines] == [("A", True)]
    assert [trunk.is_open for trunk in second.trunks] == [False, False]
    assert second.ticks == first.ticks
