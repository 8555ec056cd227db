"""Consent statuses against the W3C Data Privacy Vocabulary 2.3 and its lifecycle.

[P]: read with rdflib 7.6.0 from the published `dpv.ttl` (14,909 triples, repository commit
f01a55c of 28 February 2026). [T]: read in the text of `consent-lifecycle.dot` there.
"""

import pytest

from relations.consent.record import CONSENT, DPV, Consent, UseStatus, may_follow, usable

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


@pytest.mark.parametrize("before", [Consent.REFUSED, Consent.WITHDRAWN, Consent.EXPIRED])
def test_no_yes_follows_without_a_new_notice(before: Consent) -> None:
    # [T] the drawing has no edge from these to Given but over NoticeShown.
    assert not may_follow(before, Consent.GIVEN, new_notice=False)
    assert may_follow(before, Consent.GIVEN, new_notice=True)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (Consent.REQUESTED, Consent.GIVEN),
        (Consent.REQUESTED, Consent.REFUSED),
        (Consent.GIVEN, Consent.WITHDRAWN),
        (Consent.GIVEN, Consent.EXPIRED),
        (Consent.GIVEN, Consent.INVALIDATED),
    ],
)
def test_edges_of_the_lifecycle_are_open(before: Consent, after: Consent) -> None:
    assert may_follow(before, after, new_notice=False)  # [T]
