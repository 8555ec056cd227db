"""The order of the rows: depth first, few before many, and nobody under whom we may not say."""

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as some

from relations.referrals import graph
from relations.referrals.graph import Web, Word
from relations.referrals.rows import in_rows, most
from tests.referrals.grown import words

DAY = date(2024, 1, 1)


def web(*heard: tuple[str, str, int], outside: tuple[str, ...] = ()) -> Web:
    return graph.web(
        (Word(who, by, DAY + timedelta(on), n) for n, (who, by, on) in enumerate(heard)), outside
    )


def codes(found: Web, only: set[str] | None = None) -> list[str]:
    return [row.code for row in in_rows(found, only)]


def test_whoever_has_fewer_behind_them_comes_first_then_the_latest() -> None:
    found = web(("A", "", 0), ("B", "A", 1), ("C", "A", 2), ("D", "A", 3), ("E", "B", 4))
    assert codes(found) == ["A", "D", "C", "B", "E"]


def test_beginnings_stand_in_the_order_of_their_days_and_who_is_outside_by_the_first_told_of() -> (
    None
):
    found = web(("A", "", 5), ("B", "X1", 3), ("C", "X1", 9), ("D", "", 7), outside=("X1", "X2"))
    rows = in_rows(found)
    assert [row.code for row in rows] == ["X1", "C", "B", "A", "D"]
    assert [row.is_outside for row in rows] == [True, False, False, False, False]
    assert (rows[0].on, rows[0].people) == (DAY + timedelta(3), 2)


def test_somebody_told_of_by_one_left_out_is_a_beginning_here() -> None:
    found = web(("A", "", 0), ("B", "A", 1), ("C", "B", 2))
    assert [(row.code, row.above) for row in in_rows(found, {"A", "C"})] == [("A", -1), ("C", -1)]


def test_somebody_of_a_withheld_introducer_hangs_under_nobody() -> None:
    heard = [Word("A", "", DAY, 0), Word("B", "", DAY, 1, 1, is_withheld=True)]
    rows = in_rows(graph.web(heard))
    assert [(row.code, row.above, row.is_withheld) for row in rows] == [
        ("A", -1, False), ("B", -1, True),
    ]  # fmt: skip


def test_nobody_makes_no_rows() -> None:
    assert in_rows(graph.web([])) == []


def test_whoever_is_told_of_too_early_has_no_row() -> None:
    assert codes(web(("A", "B", 0), ("B", "", 1))) == ["B"]


@given(some.integers(0, 120), some.integers(0, 999))
def test_each_person_has_one_row_and_rows_under_one_follow_it_without_a_gap(
    people: int, seed: int
) -> None:
    found = graph.web(words(people, seed), ("X1", "X2"))
    rows = in_rows(found)
    assert sorted(row.code for row in rows if not row.is_outside) == sorted(found.reached)
    for place, row in enumerate(rows):
        under = rows[place : place + row.people + row.is_outside]
        assert all(other.root == row.root for other in under)
        assert all(other.above >= place for other in under[1:])
        if row.above >= 0:
            assert rows[row.above].code == found.reached[row.code].first


@given(some.integers(1, 120), some.integers(0, 999), some.integers(1, 60))
def test_those_with_most_people_behind_them_are_never_cut_off_from_who_told_of_them(
    people: int, seed: int, count: int
) -> None:
    found = graph.web(words(people, seed), ("X1", "X2"))
    chosen = most(found, None, count)
    assert len(chosen) == min(count, people)
    for code in chosen:
        assert found.reached[code].first in {*chosen, "", *found.outside}
    behind = {row.code: row.people for row in in_rows(found)}
    left = [behind[code] for code in found.reached if code not in chosen]
    assert min(behind[code] for code in chosen) >= max(left, default=0)
