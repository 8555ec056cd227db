"""Film, pack and what came home; F7, F8 and F10 of the job's own formulas, worked by hand."""

from datetime import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.consent.states import State
from relations.trips.rules import (
    HEAPS,
    Gap,
    Heap,
    Pack,
    Tally,
    balance,
    film,
    fits,
    minutes,
    on_top,
    open_ends,
    until,
)
from relations.trips.values import COUNTS, Counted, How

PAPERS = st.dictionaries(
    st.integers(10_000, 99_999).map(str), st.sampled_from(list(State)), max_size=40
)


def papers(**counts):
    """So many papers of each state, under serials of their own."""
    states = [State(state) for state, count in counts.items() for _ in range(count)]
    return [(f"{70_001 + number}", state) for number, state in enumerate(states)]


def test_trip_of_twenty_blanks_balances():
    """Journey 4: 13 filled in and home, 2 left, 4 blank, 1 spoilt, 0 missing."""
    found = balance(
        papers(standing=9, doubtful=1, scanned=3, left_with_them=2, brought_back_blank=4, spoilt=1)
    )
    assert found.printed == 20
    assert dict(found.heaps) == {
        Heap.HOME: 13, Heap.LEFT: 2, Heap.BLANK: 4, Heap.SPOILT: 1, Heap.MISSING: 0,
    }  # fmt: skip
    assert found.is_balanced
    assert (found.unsaid, found.missing) == ((), ())


@pytest.mark.parametrize("state", ["printed", "carried", "filled_in"])
def test_paper_of_which_nobody_has_said_where_it_is_leaves_a_trip_unbalanced(state):
    found = balance(papers(standing=2, **{state: 1}))
    assert not found.is_balanced
    assert found.unsaid == ("70003",)


def test_missing_paper_balances_and_is_named():
    found = balance(papers(standing=2, missing=1))
    assert found.is_balanced
    assert found.missing == ("70003",)
    assert found.heaps[Heap.MISSING] == 1


def test_paper_that_was_written_off_is_counted_and_looked_for_no_more():
    found = balance(papers(written_off=1))
    assert (found.heaps[Heap.MISSING], found.missing) == (1, ())


def test_what_became_of_a_form_later_does_not_unbalance_the_trip():
    for state in ("replaced", "withdrawn", "ended", "kept_as_proof", "destroyed"):
        assert balance(papers(**{state: 1})).heaps[Heap.HOME] == 1


def test_every_state_has_its_heap_or_is_unsaid():
    assert set(HEAPS) == set(State)


def test_nothing_out_is_balanced():
    assert balance([]).is_balanced


@given(PAPERS)
def test_heaps_and_unsaid_make_up_what_was_printed(states):
    found = balance(states.items())
    assert sum(found.heaps.values()) + len(found.unsaid) == found.printed == len(states)
    assert found.is_balanced is (not found.unsaid)
    assert list(found.unsaid) == sorted(found.unsaid)
    assert len(found.missing) <= found.heaps[Heap.MISSING]


@pytest.mark.parametrize(
    ("planned", "sheets"),
    [(0, 0), (1, 2), (6, 8), (20, 24), (54, 64)],
)
def test_film_is_fifteen_in_a_hundred_more_and_two_in_each_holder(planned, sheets):
    """By hand of F7; nine sittings of six sheets are the demo's T7: 54 x 1.15 = 62.1 -> 64."""
    assert film(planned) == sheets


T7 = Pack(blanks=20, sittings=9, days=14, rounds=3)


def test_pack_of_the_seventh_trip_has_127_pages():
    """F8: 80 + 20 + 9 + 14 + 3 + 1."""
    assert (T7.forms, T7.pages) == (80, 127)
    assert Pack(lists=0).pages == 0


@pytest.mark.parametrize(("a_minute", "lasts"), [(6, 23), (12, 12)])
def test_pack_lasts_as_long_as_the_printer_needs_and_a_minute(a_minute, lasts):
    assert minutes(127, a_minute) == lasts


@pytest.mark.parametrize(
    ("begin", "is_fine"),
    [("16:20", True), ("16:27", True), ("16:28", False), ("16:35", False), ("17:05", False)],
)
def test_pack_fits_if_it_is_printed_ten_minutes_before_the_cut(begin, is_fine):
    """Journey 1: cut at 17:00, 23 minutes at 6 pages a minute; the edges 33 minutes before."""
    assert fits(time.fromisoformat(begin), time(17), T7.pages) is is_fine


@pytest.mark.parametrize(
    ("begin", "cut", "left"),
    [("23:50", "00:30", 40), ("17:00", "17:00", 0), ("17:05", "17:00", 0), ("00:00", "12:00", 720)],
)
def test_cut_after_midnight_is_of_the_night_that_comes(begin, cut, left):
    assert until(time.fromisoformat(begin), time.fromisoformat(cut)) == left


def test_on_top_lie_the_share_of_three_days_and_all_that_those_met_there_need():
    """Of fr 10, es 4, bn 3, ar 3 over 14 days: 10 x 3 / 14 -> 3; one expected needs two."""
    lie = {"fr": 10, "es": 4, "bn": 3, "ar": 3}
    assert on_top(lie, {"es": 1}, 14) == {"fr": 3, "es": 2, "bn": 1, "ar": 1}
    assert on_top({"fr": 1}, {"fr": 5}, 14) == {"fr": 1}
    assert on_top(lie, {}, 2) == lie
    assert on_top(lie, {}, 0) == dict.fromkeys(lie, 0)


FILM = {"taken": 64, "unused": 6, "exposed": 58, "processed": 57, "lost": 1}
PRINTS = {"taken": 8, "in_hand": 5, "handed_on": 1, "kept": 1, "brought_back": 1}
MONEY = {"taken": 24_000, "spent": 18_050, "brought_back": 5_950}
RECORDINGS = {"made": 2, "sealed": 1, "destroyed": 1}
HELD = {"film": FILM, "prints": PRINTS, "money": MONEY, "recordings": RECORDINGS}


def tally(thing, **more):
    return Tally(Counted(thing), {How(how): n for how, n in {**HELD[thing], **more}.items()})


@pytest.mark.parametrize("thing", HELD)
def test_thing_that_came_home_whole_comes_to_zero(thing):
    """Film as in journey 4: 58 exposed = 57 processed + 1 lost, of 64 taken."""
    assert tally(thing).is_zero


@pytest.mark.parametrize(
    ("thing", "wrong", "gaps"),
    [
        ("film", {"processed": 56}, (Gap(How.EXPOSED, 1),)),
        ("film", {"exposed": 59}, (Gap(How.TAKEN, -1), Gap(How.EXPOSED, 1))),
        ("prints", {"kept": 0}, (Gap(How.TAKEN, 1),)),
        ("money", {"spent": 18_100}, (Gap(How.TAKEN, -50),)),
        ("recordings", {"sealed": 0}, (Gap(How.MADE, 1),)),
    ],
)
def test_gap_says_of_which_whole_how_many_are_missing_or_too_many(thing, wrong, gaps):
    found = tally(thing, **wrong)
    assert found.gaps == gaps
    assert not found.is_zero


@pytest.mark.parametrize("thing", HELD)
def test_what_nobody_counted_is_not_nothing(thing):
    whole = tally(thing)
    for how in COUNTS[thing]:
        less = Tally(whole.thing, {key: n for key, n in whole.counts.items() if key != how})
        assert (less.is_counted, less.gaps, less.is_zero) == (False, (), False)


def test_trip_is_closed_only_when_everything_is_home():
    every = [tally(thing) for thing in HELD]
    assert open_ends(balance(papers(standing=2)), every, ()) == ()
    assert open_ends(balance(papers(standing=1, carried=1)), every, ()) == ("blanks_open",)
    lost = balance(papers(standing=2, missing=1))
    assert open_ends(lost, every, ()) == ("missing_untold",)
    assert open_ends(lost, every, ["70003"]) == ()
    empty = [Tally(thing, {}) for thing in COUNTS]
    assert open_ends(balance([]), empty, ()) == tuple(f"{thing}_open" for thing in COUNTS)


@given(st.integers(0, 400), st.integers(1, 60))
def test_a_faster_printer_or_a_smaller_pack_never_takes_longer(pages, a_minute):
    assert minutes(pages, a_minute) >= minutes(pages, a_minute + 1)
    assert minutes(pages, a_minute) <= minutes(pages + 1, a_minute)


@given(st.integers(0, 2000))
def test_film_is_even_and_never_less_than_planned(planned):
    assert film(planned) % 2 == 0
    assert film(planned) >= planned
