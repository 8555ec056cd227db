"""The second view: a column for each step, nothing crossed, nothing touched."""

from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from relations.referrals import graph
from relations.referrals.drawing import Drawn
from relations.referrals.graph import Word
from relations.referrals.values import Person
from relations.referrals.waves import WAVES, waves
from tests.referrals.grown import drawn
from tests.referrals.touching import crossing, outside, touching

DAY = date(2024, 1, 1)


def small() -> Drawn:
    heard = [("A", ""), ("B", "A"), ("C", "A"), ("D", "B"), ("E", "X1")]
    words = [Word(who, by, DAY, n) for n, (who, by) in enumerate(heard)]
    web = graph.web([*words, Word("F", "", DAY, 9, 2, is_withheld=True)], ["X1"])
    return Drawn(web, {code: Person(code, code) for code in "ABCDEF"}, {"X1": "X1"})


def test_each_step_has_a_column_and_counts_people_and_nobody_outside() -> None:
    found = waves(small())
    places = {spot.code: spot.x for spot in found.growth.spots}
    assert found.people == [1, 3, 2]
    assert [places[code] for code in ("A", "B", "D")] == found.growth.columns
    assert (places["X1"], places["E"], places["F"]) == tuple(found.growth.columns)


def test_whoever_told_of_others_stands_halfway_between_them() -> None:
    y = {spot.code: spot.y for spot in waves(small()).growth.spots}
    assert y["B"] == y["D"]
    assert y["A"] == (y["C"] + y["B"]) / 2


def test_whoever_came_through_somebody_withheld_is_joined_to_nobody() -> None:
    found = waves(small()).growth
    barred = next(spot for spot in found.spots if spot.is_withheld)
    assert barred.code == "F"
    assert barred.y not in [twig.y for twig in found.twigs]


@pytest.mark.parametrize("people", [42, 60, 300])
@pytest.mark.parametrize("is_named", [False, True])
def test_no_label_meets_a_line_and_no_line_another(people: int, is_named: bool) -> None:
    found = waves(drawn(people, is_named=is_named)).growth
    assert touching(found) == crossing(found) == outside(found) == []


@settings(max_examples=25)
@given(some.integers(0, 90), some.integers(0, 999))
def test_in_any_project_rows_of_one_column_keep_their_distance(people: int, seed: int) -> None:
    found = waves(drawn(people, seed)).growth
    assert touching(found) == crossing(found) == []
    for x in found.columns:
        column = sorted(spot.y for spot in found.spots if spot.x == x)
        assert all(b - a >= WAVES.row - 0.001 for a, b in pairwise(column))


def test_six_steps_of_codes_fit_a_small_telephone() -> None:
    words = [Word(f"{n:02}", f"{n - 1:02}" if n else "", DAY, n) for n in range(6)]
    web = graph.web(words)
    found = waves(Drawn(web, {code: Person(code, code) for code in web.reached}))
    assert found.growth.width == WAVES.width


def test_nobody_has_no_column() -> None:
    found = waves(Drawn(graph.web([]), {}))
    assert (found.people, found.growth.spots) == ([], [])
