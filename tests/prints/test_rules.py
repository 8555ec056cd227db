"""A print on its way to the sitter."""

import dataclasses
import json
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.prints.rules import (
    AFTER_ANSWER,
    ASKS_WHY,
    ENDINGS,
    ENDS,
    MOVES,
    SILENT,
    Answered,
    Counts,
    Facts,
    PrintState,
    answer_first,
    count,
    is_asked_again,
    is_late,
    is_looked_for,
    may_move,
    reachable,
)

S = PrintState
DEMO = Path(__file__).parents[1] / "cases" / "demo.json"
ALL_KNOWN = Facts(
    way_agreed=True,
    tracked=True,
    plain_cover=True,
    post_asked_for=True,
    days_waiting=30,
    word_from_sitter=True,
    sat_again=True,
    apology_given=True,
    is_closing=True,
    ending="archive",
    is_decided=True,
)


def test_the_model_has_22_states_and_44_moves() -> None:
    """Source: job.md 2, program check."""
    assert len(MOVES) == len(S) == 22
    assert sum(map(len, MOVES.values())) == 44


def test_every_state_is_reached_and_has_a_way_to_an_end() -> None:
    assert reachable(S.OWED) | {S.OWED} == set(S)
    for state in S:
        assert bool(MOVES[state]) != (state in ENDS)
        assert state in ENDS or reachable(state) & ENDS


@given(st.sampled_from(S), st.sampled_from(S))
def test_with_all_guards_met_exactly_the_moves_of_the_model_are_free(
    old: PrintState, new: PrintState
) -> None:
    assert (may_move(old, new, ALL_KNOWN) == ()) == (new in MOVES[old])


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (S.OWED, S.ORDERED),
        (S.ASKED_HOW, S.AT_THE_LAB),
        (S.CHECKED, S.IN_HAND),
        (S.OWED, S.CLOSED_OUT),
    ],
)
def test_two_steps_at_once_are_refused_as_such(old: PrintState, new: PrintState) -> None:
    assert may_move(old, new, ALL_KNOWN) == ("two_steps",)


def test_standing_still_and_going_where_no_way_leads_are_refused() -> None:
    assert may_move(S.OWED, S.OWED, ALL_KNOWN) == ("same",)
    assert may_move(S.ACKNOWLEDGED, S.OWED, ALL_KNOWN) == ("no_such_move",)
    assert may_move(S.CHECKED, S.NOTHING_TO_PRINT, ALL_KNOWN) == ("no_such_move",)


GUARDED = [
    (S.CHECKED, S.OUT_ON_A_ROUND, ("safe_way",)),
    (S.KEPT_FOR_THEM, S.OUT_ON_A_ROUND, ("safe_way",)),
    (S.LOOKING_FOR_A_WAY, S.OUT_ON_A_ROUND, ("safe_way",)),
    (S.CHECKED, S.POSTED, ("tracked", "plain_cover", "asked_for")),
    (S.LOOKING_FOR_A_WAY, S.POSTED, ("tracked", "plain_cover", "asked_for")),
    (S.POSTED, S.LOOKING_FOR_A_WAY, ("thirty_days",)),
    (S.HANDED_ON, S.LOOKING_FOR_A_WAY, ("thirty_days",)),
    (S.HANDED_ON, S.ACKNOWLEDGED, ("word",)),
    (S.NOTHING_TO_PRINT, S.OWED, ("sat_again",)),
    (S.NOTHING_TO_PRINT, S.CLOSED_OUT, ("apology", "closing", "decided_by")),
    (S.KEPT_FOR_THEM, S.CLOSED_OUT, ("ending", "closing", "decided_by")),
    (S.LOST, S.CLOSED_OUT, ("closing", "decided_by")),
]


@pytest.mark.parametrize(("old", "new", "codes"), GUARDED)
def test_what_is_not_known_stands_against_a_step(
    old: PrintState, new: PrintState, codes: tuple[str, ...]
) -> None:
    assert may_move(old, new) == codes


def test_no_other_move_waits_for_anything() -> None:
    guarded = {(old, new) for old, new, _ in GUARDED} | {(S.NOT_HOME, S.OUT_ON_A_ROUND)}
    free = {(old, new) for old, news in MOVES.items() for new in news if not may_move(old, new)}
    assert free == {(old, new) for old, news in MOVES.items() for new in news} - guarded


@pytest.mark.parametrize("new", [S.OUT_ON_A_ROUND, S.POSTED])
def test_nobody_goes_or_writes_to_whoever_said_no(new: PrintState) -> None:
    left_alone = dataclasses.replace(ALL_KNOWN, is_left_alone=True)
    for old in (old for old, news in MOVES.items() if new in news):
        assert may_move(old, new, left_alone) == ("left_alone",)
    assert may_move(S.CHECKED, S.KEPT_FOR_THEM, left_alone) == ()


def test_what_is_asked_of_a_step_is_of_a_state_that_can_be_reached() -> None:
    assert set(ASKS_WHY) | SILENT | set(AFTER_ANSWER.values()) <= reachable(S.OWED)
    assert all(to in MOVES[S.ASKED_HOW] for to in AFTER_ANSWER.values())
    assert set(Answered) - set(AFTER_ANSWER) == {Answered.PRINT}


@pytest.mark.parametrize("state", S)
def test_only_what_went_through_others_is_looked_for_and_after_thirty_days(
    state: PrintState,
) -> None:
    since, day = date(2026, 10, 24), date(2026, 11, 23)
    assert is_looked_for(state, since, day) == (state in {S.POSTED, S.HANDED_ON})
    assert not is_looked_for(state, date(2026, 10, 25), day)


def test_kept_prints_are_asked_about_once_on_a_trip() -> None:
    first = date(2026, 11, 30)
    assert is_asked_again(S.KEPT_FOR_THEM, date(2026, 11, 29), first)
    assert not is_asked_again(S.KEPT_FOR_THEM, first, first)
    assert not is_asked_again(S.CHECKED, date(2026, 11, 29), first)


@pytest.mark.parametrize(
    ("is_safe", "is_held_close", "state", "answer"),
    [
        (None, False, S.OWED, Answered.PRINT),
        (True, False, S.OWED, Answered.PRINT),
        (False, False, S.OWED, Answered.KEEP),
        (None, True, S.OWED, Answered.KEEP),
        (True, True, S.OWED, Answered.KEEP),
        (None, False, S.KEPT_FOR_THEM, Answered.KEEP),
    ],
)
def test_grave_unsafe_and_kept_before_start_at_kept(
    is_safe: bool | None, is_held_close: bool, state: PrintState, answer: Answered
) -> None:
    assert answer_first(is_safe, is_held_close=is_held_close, state=state) is answer


def test_nobody_rings_a_third_time_at_a_door() -> None:
    once, twice = (dataclasses.replace(ALL_KNOWN, rounds=rounds) for rounds in (1, 2))
    assert may_move(S.NOT_HOME, S.OUT_ON_A_ROUND, once) == ()
    assert may_move(S.NOT_HOME, S.OUT_ON_A_ROUND, twice) == ("two_tries",)
    assert may_move(S.NOT_HOME, S.LOOKING_FOR_A_WAY, twice) == ()


def test_silence_is_waited_for_thirty_days() -> None:
    almost = dataclasses.replace(ALL_KNOWN, days_waiting=29)
    assert may_move(S.POSTED, S.LOOKING_FOR_A_WAY, almost) == ("thirty_days",)
    assert may_move(S.POSTED, S.LOOKING_FOR_A_WAY, ALL_KNOWN) == ()


def test_a_kept_print_is_asked_about_once_a_trip() -> None:
    asked = dataclasses.replace(ALL_KNOWN, asked_this_trip=True)
    assert may_move(S.KEPT_FOR_THEM, S.ASKED_HOW) == ()
    assert may_move(S.KEPT_FOR_THEM, S.ASKED_HOW, asked) == ("asked_this_trip",)


@pytest.mark.parametrize("ending", sorted(ENDINGS))
def test_a_kept_print_ends_only_in_one_of_three_ways(ending: str) -> None:
    known = dataclasses.replace(ALL_KNOWN, ending=ending)
    assert may_move(S.KEPT_FOR_THEM, S.CLOSED_OUT, known) == ()
    sold = dataclasses.replace(ALL_KNOWN, ending="sold")
    assert may_move(S.KEPT_FOR_THEM, S.CLOSED_OUT, sold) == ("ending",)


def demo_prints() -> dict[tuple[str, str], tuple[PrintState, date | None]]:
    """Read the demo's prints: (person, picture) -> (state, day the picture was made)."""
    demo = json.loads(DEMO.read_text(encoding="utf-8"))
    made = {pic["id"]: date.fromisoformat(pic["made_on"]) for pic in demo["pictures"]}
    return {
        (row["person"], row["picture"]): (
            S(row["state"].lower().replace(" ", "_")),
            made.get(row["picture"]),
        )
        for row in demo["prints"]
    }


def test_the_demo_owes_38_prints_of_40() -> None:
    """Source: job.md F11."""
    counts = count(demo_prints().values(), date(2026, 11, 23))
    assert counts == Counts(rows=40, owed=38, returned=17, in_hands=19, late=14)
    assert (counts.returned_percent, counts.in_hands_percent) == (45, 50)


def test_after_the_round_of_journey_5_nine_are_late() -> None:
    """Source: job.md 5, journey 5: 22 of 38 acknowledged (58 %), 24 in hands (63 %), 9 late."""
    prints = demo_prints()
    after = {
        ("12", "K12"): S.ACKNOWLEDGED,
        ("13", "K13"): S.ACKNOWLEDGED,
        ("15", "K15"): S.ACKNOWLEDGED,
        ("16", "K16"): S.ACKNOWLEDGED,
        ("32", "K32"): S.ACKNOWLEDGED,
        ("14", "K14"): S.LOOKING_FOR_A_WAY,
        ("30", "K30"): S.KEPT_FOR_THEM,
        ("31", "K31"): S.HANDED_ON,
        ("39", "K39"): S.ORDERED,
        ("16", "K15"): S.ORDERED,
    }
    prints |= {key: (state, prints[key][1]) for key, state in after.items()}
    counts = count(prints.values(), date(2026, 12, 5))
    assert counts == Counts(rows=40, owed=38, returned=22, in_hands=24, late=9)
    assert (counts.returned_percent, counts.in_hands_percent) == (58, 63)


def test_late_begins_on_the_sixty_first_day() -> None:
    sat_on = date(2026, 9, 24)
    assert not is_late(S.OWED, sat_on, date(2026, 11, 23))
    assert is_late(S.OWED, sat_on, date(2026, 11, 24))
    assert not is_late(S.OWED, None, date(2026, 11, 24))


@pytest.mark.parametrize(
    "state",
    [S.ACKNOWLEDGED, S.IN_HAND, S.KEPT_FOR_THEM, S.NOT_SAFE, S.RETURNED_BY_THEM, S.CLOSED_OUT],
)
def test_what_is_answered_is_never_late(state: PrintState) -> None:
    assert not is_late(state, date(2020, 1, 1), date(2026, 11, 23))


def test_percents_are_of_what_is_owed() -> None:
    day = date(2026, 11, 23)
    counts = count([(S.ACKNOWLEDGED, day), (S.IN_HAND, day), (S.DECLINED, day), (S.OWED, day)], day)
    assert counts == Counts(rows=4, owed=3, returned=1, in_hands=2, late=0)
    assert (counts.returned_percent, counts.in_hands_percent) == (33, 67)
    whole = count([(S.ACKNOWLEDGED, None)], day)
    assert (whole.returned_percent, whole.in_hands_percent) == (100, 100)


def test_no_prints_are_no_percent() -> None:
    counts = count([], date(2026, 11, 23))
    assert counts == Counts(0, 0, 0, 0, 0)
    assert (counts.returned_percent, counts.in_hands_percent) == (0, 0)
