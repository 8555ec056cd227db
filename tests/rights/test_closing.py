"""A project closes when every print and every promise has its ending, and not before."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.people.values import Standing
from relations.prints.promises import Otherwise
from relations.prints.rules import ENDINGS, ENDS, PrintState
from relations.rights.closing import (
    MAY_BE_CLOSED_OUT,
    OVER,
    Ending,
    Lack,
    against_closing,
    against_ending,
    may_end,
    of_print,
    of_promise,
    sums,
)

S = PrintState
CLOSED_HOW = (*sorted(ENDINGS), "apology", "lost")


@pytest.mark.parametrize("state", S)
def test_exactly_the_ends_of_the_state_model_are_endings(state) -> None:
    """Source: job.md 2, ends in italics; "closed out" says how."""
    found = [of_print(state, how) for how in CLOSED_HOW]
    assert all(isinstance(one, Ending if state in ENDS else Lack) for one in found)


def test_how_a_print_was_closed_out_is_its_ending() -> None:
    assert {of_print(S.CLOSED_OUT, how) for how in CLOSED_HOW} == {
        *(Ending.ARCHIVE, Ending.GIVEN_TO_SPEAKER, Ending.DESTROYED),
        *(Ending.APOLOGY, Ending.LOST),
    }
    with pytest.raises(ValueError, match="sold"):
        of_print(S.CLOSED_OUT, "sold")


@pytest.mark.parametrize(
    ("state", "lack"),
    [
        (S.OWED, Lack.ON_ITS_WAY),
        (S.AT_THE_LAB, Lack.ON_ITS_WAY),
        (S.RETURNED_BY_THEM, Lack.ON_ITS_WAY),
        (S.IN_HAND, Lack.NO_WORD),
        (S.HANDED_ON, Lack.NO_WORD),
        (S.POSTED, Lack.NO_WORD),
        (S.KEPT_FOR_THEM, Lack.DECIDE),
        (S.NOTHING_TO_PRINT, Lack.APOLOGISE),
        (S.LOST, Lack.LOST_FOR_GOOD),
    ],
)
def test_what_is_missing_is_named(state, lack) -> None:
    assert of_print(state, "") is lack


def test_somebody_may_decide_only_about_what_stayed_with_us_came_to_nothing_or_is_lost() -> None:
    assert {S.KEPT_FOR_THEM, S.NOTHING_TO_PRINT, S.LOST} == MAY_BE_CLOSED_OUT


def test_a_promise_is_kept_ended_or_open() -> None:
    assert of_promise(True, "") is Ending.KEPT
    assert of_promise(False, "") is Lack.OPEN
    assert [of_promise(False, how) for how in Otherwise] == [Ending.LET_OFF, Ending.COULD_NOT]


@given(st.lists(st.sampled_from([*Ending, *Lack])))
def test_sums_count_every_ending_and_no_lack(found) -> None:
    counted = sums(found)
    assert sum(counted.values()) == sum(isinstance(one, Ending) for one in found)
    assert list(counted) == [ending for ending in Ending if ending in found]


@given(st.lists(st.sampled_from(Lack)), st.booleans())
def test_the_last_press_needs_that_it_was_begun_and_that_nothing_lacks(lacks, has_begun) -> None:
    codes = against_closing(lacks, has_begun=has_begun)
    assert ("not_begun" in codes) == (not has_begun)
    assert ("still_lacking" in codes) == bool(lacks)
    assert (codes == ()) == (has_begun and not lacks)


@pytest.mark.parametrize(
    ("ending", "speaker", "agreed"),
    list(itertools.product([*sorted(ENDINGS), "", "sold"], [True, False], [True, False])),
)
def test_a_kept_print_goes_only_where_it_may(ending, speaker, agreed) -> None:
    codes = against_ending(
        S.KEPT_FOR_THEM, ending, has_speaker=speaker, is_agreed_to_archive=agreed
    )
    wanted = {
        "archive": () if agreed else ("archive_not_agreed",),
        "given_to_speaker": () if speaker else ("no_speaker",),
        "destroyed": (),
    }
    assert codes == wanted.get(ending, ("ending",))


@pytest.mark.parametrize("state", sorted(set(S) - {S.KEPT_FOR_THEM}))
def test_what_is_not_with_us_goes_nowhere(state) -> None:
    known = {"has_speaker": True, "is_agreed_to_archive": True}
    assert against_ending(state, "", **known) == ()
    assert against_ending(state, "destroyed", **known) == ("ending",)


@pytest.mark.parametrize("has_sat", [True, False])
@pytest.mark.parametrize("standing", Standing)
def test_everybody_has_an_ending_to_choose_but_where_it_is_over(standing, has_sat) -> None:
    assert bool(may_end(standing, has_sat=has_sat)) is (standing not in OVER)
