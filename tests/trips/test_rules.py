"""What went out and came home; F10 of the job's own formulas, its worked trip by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.consent.states import State
from relations.trips.rules import HEAPS, Heap, balance

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
