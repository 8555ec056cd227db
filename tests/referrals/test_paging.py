"""Sheets of paper: everybody once, with the path that goes there, and nothing cut."""

import dataclasses
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from relations.referrals import graph
from relations.referrals.drawing import Drawn, lay
from relations.referrals.geometry import Size
from relations.referrals.paging import TooManyError, overview, pages, sheets
from tests.referrals.grown import drawn
from tests.referrals.touching import crossing, outside, touching

PAPER = Size(1480, 16, 10.5, 4.6, 130, 62, 9, nudge=6, bend=3.5)
ONE = Size(1480, 9.5, 8.5, 3, 20, 62, 2, nudge=4)
ROOM = 560


@settings(max_examples=30)
@given(some.integers(0, 200), some.integers(0, 99), some.integers(120, 900))
def test_everybody_stands_on_one_sheet_with_the_path_that_leads_there(
    people: int, seed: int, room: int
) -> None:
    laid = lay(drawn(people, seed), PAPER)
    found = pages(laid, room)
    assert [one for page in found for one in page.own] == list(range(len(laid.rows)))
    for page in found:
        shown = {*page.again, *page.own}
        assert all(laid.rows[one].above in {-1, *shown} for one in page.own) or page.again
        assert page.shown == [*((one, True) for one in page.again), *((n, False) for n in page.own)]


def test_sheets_are_no_higher_than_there_is_room_and_all_have_the_same_axis() -> None:
    found = sheets(drawn(300, is_named=True), PAPER, ROOM)
    assert len(found) > 5
    assert all(sheet.height - PAPER.top - PAPER.gap <= ROOM for sheet in found)
    assert all(sheet.ticks == found[0].ticks and sheet.months == found[0].months for sheet in found)


@pytest.mark.parametrize("people", [42, 60, 300])
def test_no_label_meets_a_line_on_any_sheet(people: int) -> None:
    for sheet in sheets(drawn(people, is_named=True), PAPER, ROOM):
        assert touching(sheet) == crossing(sheet) == outside(sheet) == []


def test_a_trunk_that_goes_on_reaches_the_end_of_its_sheet_and_goes_on_on_the_next() -> None:
    first, second, *_ = sheets(drawn(60), PAPER, 300)
    going_on = {trunk.x for trunk in first.trunks if trunk.is_open}
    assert going_on
    assert all(trunk.bottom == first.bottom for trunk in first.trunks if trunk.is_open)
    assert going_on <= {spot.x for spot in second.spots if spot.is_again}


def test_no_beginning_is_left_alone_at_the_foot_of_a_sheet_before_whom_they_told_of() -> None:
    moved = 0
    for seed in range(40):
        laid = lay(drawn(120, seed), PAPER)
        for page, after in pairwise(pages(laid, 300)):
            assert (
                after.own[0] == 0
                or laid.rows[after.own[0]].above != page.own[-1]
                or (laid.rows[page.own[-1]].above >= 0)
            )
            moved += laid.rows[after.own[0]].above < 0
    assert moved


def test_of_a_long_path_the_last_half_sheet_is_repeated() -> None:
    chain = [graph.Word(f"{n}", f"{n - 1}" if n else "", drawn(2).web.reached["01"].on, n)
             for n in range(60)]  # fmt: skip
    web = graph.web(chain)
    plain = drawn(1).people["01"]
    people = {code: dataclasses.replace(plain, code=code) for code in web.reached}
    found = pages(lay(Drawn(web, people), PAPER), 320)
    assert [len(page.again) for page in found[1:]] == [10] * (len(found) - 1)


def test_nobody_is_one_empty_sheet() -> None:
    (sheet,) = sheets(Drawn(graph.web([]), {}), PAPER, ROOM)
    assert sheet.spots == []


@pytest.mark.parametrize("people", [150, 300])
def test_an_overview_names_those_on_whom_most_hang_and_no_label_meets_anything(
    people: int,
) -> None:
    plain = drawn(people, is_named=True)
    found = overview(plain, ONE, 880)
    named = [spot.code for spot in found.spots if spot.label]
    assert found.height <= 880 + ONE.top + ONE.gap + 0.01
    assert len(found.spots) >= people
    assert touching(found) == crossing(found) == outside(found) == []
    least = min(plain.web.hanging[code] for code in named)
    rest = [n for code, n in plain.web.hanging.items() if code not in named]
    assert least >= max(rest)


def test_an_overview_of_few_is_the_whole_in_full_rows() -> None:
    found = overview(drawn(42), ONE, 880)
    assert all(spot.label for spot in found.spots)


def test_an_overview_of_too_many_is_refused() -> None:
    with pytest.raises(TooManyError):
        overview(drawn(600), ONE, 880)
