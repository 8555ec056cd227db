"""Every move of a form, its guards, and the shape of the whole table."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from relations.consent.models import Form
from relations.consent.states import (
    BY_HAND,
    FORM_MOVES,
    GUARDS,
    HOMEWARD,
    Facts,
    Refusal,
    State,
    homeward,
    may_move,
    ways_on,
)

TODAY = date(2026, 11, 23)
S, R = State, Refusal
# A form of which everything is there and everything happened.
ALL = Facts(
    on=TODAY,
    is_signed_out=True,
    has_scan=True,
    readings=2,
    is_settled=True,
    is_complete=True,
    wording_was_read=True,
    guardians_are_filled=True,
    newer_one_stands=True,
    took_something_back=True,
    took_all_back=True,
    last_day=TODAY - timedelta(days=1),
    keep_until=TODAY - timedelta(days=1),
    alarm_is_closed=True,
)
# Each fact that is asked, the state it opens, a state to come from, and the words without it.
ASKED = [
    (S.PRINTED, S.CARRIED, {"is_signed_out": False}, R.NOT_SIGNED_OUT),
    (S.BROUGHT_HOME, S.SCANNED, {"has_scan": False}, R.NO_SCAN),
    (S.SCANNED, S.READ_ONCE, {"readings": 0}, R.NOT_READ),
    (S.READ_ONCE, S.STANDING, {"has_scan": False}, R.NO_SCAN),
    (S.READ_ONCE, S.STANDING, {"is_settled": False}, R.NOT_SETTLED),
    (S.READ_ONCE, S.STANDING, {"is_complete": False}, R.INCOMPLETE),
    (S.DOUBTFUL, S.STANDING, {"wording_was_read": False}, R.WORDING_UNREAD),
    (S.DOUBTFUL, S.STANDING, {"guardians_are_filled": False}, R.GUARDIANS_OPEN),
    (S.STANDING, S.REPLACED, {"newer_one_stands": False}, R.NO_NEWER_ONE),
    (S.STANDING, S.WITHDRAWN_IN_PART, {"took_something_back": False}, R.NOTHING_TAKEN_BACK),
    (S.STANDING, S.WITHDRAWN, {"took_all_back": False}, R.NOTHING_TAKEN_BACK),
    (S.STANDING, S.ENDED, {"last_day": None}, R.NOT_OVER_YET),
    (S.STANDING, S.ENDED, {"on": None}, R.NOT_OVER_YET),
    (S.STANDING, S.ENDED, {"last_day": TODAY}, R.NOT_OVER_YET),
    (S.KEPT_AS_PROOF, S.DESTROYED, {"keep_until": None}, R.STILL_TO_BE_KEPT),
    (S.KEPT_AS_PROOF, S.DESTROYED, {"on": None}, R.STILL_TO_BE_KEPT),
    (S.KEPT_AS_PROOF, S.DESTROYED, {"keep_until": TODAY}, R.STILL_TO_BE_KEPT),
    (S.MISSING, S.WRITTEN_OFF, {"alarm_is_closed": False}, R.ALARM_IS_OPEN),
]


def test_register_and_rule_know_the_same_states():
    assert [code for code, _ in Form._meta.get_field("state").choices] == list(State)


def test_table_has_the_states_and_moves_of_the_worked_model():
    # Source: the project's state model, counted by program when it was written: Form 19/36.
    assert len(FORM_MOVES) == 19
    assert sum(map(len, FORM_MOVES.values())) == 36


def reachable(start):
    seen, waiting = {start}, [start]
    while waiting:
        new = FORM_MOVES[waiting.pop()] - seen
        seen |= new
        waiting += new
    return seen


def test_every_state_can_be_reached_and_leads_to_an_end():
    assert reachable(S.PRINTED) == set(State)
    ends = {state for state, following in FORM_MOVES.items() if not following}
    assert ends == {S.SPOILT, S.DESTROYED, S.WRITTEN_OFF}
    assert all(reachable(state) & ends for state in State)


@pytest.mark.parametrize("present", State)
@pytest.mark.parametrize("to", State)
def test_move_that_is_not_in_the_table_is_refused_whatever_is_known(present, to):
    refused = (R.NO_SUCH_MOVE,) if to not in FORM_MOVES[present] else ()
    assert may_move(present, to, ALL) == refused


@pytest.mark.parametrize(("present", "to", "without", "refusal"), ASKED)
def test_guarded_move_names_what_it_lacks(present, to, without, refusal):
    assert may_move(present, to, replace(ALL, **without)) == (refusal,)


def test_every_guard_is_asked_here():
    guarded = {(to, refusal) for to, holds in GUARDS.items() for refusal in holds}
    assert guarded == {(to, refusal) for _, to, _, refusal in ASKED}


def test_all_reasons_are_named_and_unknown_opens_nothing():
    assert set(may_move(S.READ_ONCE, S.STANDING, Facts())) == {
        *(R.NO_SCAN, R.NOT_SETTLED, R.INCOMPLETE, R.WORDING_UNREAD, R.GUARDIANS_OPEN)
    }


def test_hand_says_only_where_the_paper_is():
    assert ways_on(S.PRINTED) == (S.CARRIED, S.SPOILT)
    assert ways_on(S.CARRIED) == (S.SPOILT, S.FILLED_IN, S.BROUGHT_BACK_BLANK, S.MISSING)
    assert ways_on(S.READ_ONCE) == ()
    assert not BY_HAND & {S.STANDING, S.SCANNED, S.WITHDRAWN}


def test_paper_that_is_scanned_walks_home_by_allowed_steps():
    assert homeward(S.PRINTED) == (S.CARRIED, S.FILLED_IN, S.BROUGHT_HOME)
    assert homeward(S.MISSING) == homeward(S.LEFT_WITH_THEM) == (S.BROUGHT_HOME,)
    assert homeward(S.SPOILT) == homeward(S.BROUGHT_BACK_BLANK) == ()
    assert all(to in FORM_MOVES[present] for present, to in HOMEWARD.items())
