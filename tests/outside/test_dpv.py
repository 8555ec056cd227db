"""Consent statuses against the W3C Data Privacy Vocabulary 2.3 and its lifecycle.

[P]: read with rdflib 7.6.0 from the published `dpv.ttl` (14,909 triples, repository commit
f01a55c of 28 February 2026). [T]: read in the text of `consent-lifecycle.dot` there.
"""

import pytest

from relations.consent.record import CONSENT, DPV, Consent, UseStatus, usable
from relations.consent.states import FORM_MOVES, Facts, Refusal, State, may_move

# [P] skos:broader ConsentStatusValidForProcessing and ConsentStatusInvalidForProcessing.
VALID = {"ConsentGiven", "RenewedConsentGiven"}
INVALID = {
    "ConsentRequested",
    "ConsentRequestDeferred",
    "ConsentRefused",
    "ConsentExpired",
    "ConsentWithdrawn",  # by the person
    "ConsentRevoked",  # by somebody else
    "ConsentInvalidated",  # found invalid by an authority
    "ConsentUnknown",
}


def test_base_address_is_the_published_one() -> None:
    assert DPV == "https://w3id.org/dpv#"  # [P]


def test_statuses_are_the_ten_leaves_and_two_are_usable() -> None:
    assert {str(status) for status in Consent} == VALID | INVALID
    assert {str(status) for status in Consent if usable(status)} == VALID


def test_every_status_of_ours_maps_to_one_leaf_and_every_leaf_is_reached() -> None:
    assert set(CONSENT) == set(UseStatus)
    assert set(CONSENT.values()) == set(Consent)


def test_unknown_is_no() -> None:
    assert not usable(Consent.UNKNOWN)


@pytest.mark.parametrize(
    ("ours", "leaf"),
    [
        (UseStatus.TAKEN_BACK, "ConsentWithdrawn"),  # [P] by the person
        (UseStatus.TAKEN_BACK_FOR_THEM, "ConsentRevoked"),  # [P] by somebody else
        (UseStatus.FOUND_VOID, "ConsentInvalidated"),  # [P] by an authority
    ],
)
def test_who_ended_it_tells_the_three_endings_apart(ours: UseStatus, leaf: str) -> None:
    assert CONSENT[ours] == leaf


@pytest.mark.parametrize("gone", [State.WITHDRAWN, State.ENDED, State.REPLACED, State.DESTROYED])
def test_no_way_leads_a_form_from_its_end_back_to_standing(gone: State) -> None:
    """[T] Withdrawn and Expired lead to Given over a new notice only: a new form, by our model."""
    reached, more = {gone}, [gone]
    while more:
        for state in FORM_MOVES[more.pop()] - reached:
            reached.add(state)
            more.append(state)
    assert not reached & {State.STANDING, State.READ_ONCE, State.SCANNED}


@pytest.mark.parametrize("way", [State.SPOILT, State.BROUGHT_BACK_BLANK, State.WRITTEN_OFF])
def test_a_paper_on_which_nobody_said_yes_never_stands_by_itself(way: State) -> None:
    assert State.STANDING not in FORM_MOVES[way]
    assert may_move(way, State.STANDING, Facts())


def test_a_form_that_was_taken_back_stays_so_whatever_else_holds() -> None:
    """Given stays out of reach with every fact in its favour, and a new notice is another form."""
    best = Facts(
        has_scan=True, is_settled=True, is_complete=True, wording_was_read=True,
        guardians_are_filled=True, newer_one_stands=True,
    )  # fmt: skip
    assert may_move(State.WITHDRAWN, State.STANDING, best) == (Refusal.NO_SUCH_MOVE,)
    assert may_move(State.ENDED, State.STANDING, best) == (Refusal.NO_SUCH_MOVE,)
