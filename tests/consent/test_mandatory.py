"""What a record must hold, taken out item by item; source: the DPV guide consent-27560 [T]."""

import copy

import pytest

from relations.consent.export import document
from relations.consent.mandatory import Item, missing
from tests.consent.records import RECORD, record

I = Item  # noqa: E741 # one line each in the table
# Each item, and where it lies: a step is a key, "*" every part of a list, 1 the second of it.
LIES = {
    I.SCHEMA_VERSION: ("dct:hasVersion",),
    I.RECORD_ID: ("dct:identifier",),
    I.PRINCIPAL_ID: ("dpv:hasDataSubject", "dct:identifier"),
    I.RECEIPT_ID: ("ours:receipt",),
    I.NOTICE: ("dpv:hasNotice", "dct:hasVersion"),
    I.LANGUAGE: ("dpv:hasNotice", "dct:language"),
    I.PURPOSE: ("dpv:hasProcess", 1, "dpv:hasPurpose"),
    I.STORED_IN: ("dpv:hasStorageCondition", "dpv:hasLocation"),
    I.RETENTION: ("dpv:hasStorageCondition", "dpv:hasDuration"),
    I.JURISDICTION: ("dpv:hasJurisdiction",),
    I.RECIPIENTS: ("dpv:hasProcess", 1, "dpv:hasRecipient"),
    I.WITHDRAWAL: ("dpv:hasConsentControl", "dct:description"),
    I.DATA_TYPE: ("dpv:hasPersonalData", 1, "@type"),
    I.PARTY_ID: ("dpv:hasDataController", "@id"),
    I.PARTY_ADDRESS: ("dpv:hasDataController", "dpv:hasAddress"),
    I.PARTY_NAME: ("dpv:hasDataController", "dpv:hasName"),
    I.PARTY_CONTACT: ("dpv:hasDataController", "dpv:hasContact"),
    I.PARTY_TYPE: ("dpv:hasDataController", "@type"),
    I.EVENT_TIME: ("ours:events", 1, "dpv:isIndicatedAtTime"),
    I.EVENT_DURATION: ("ours:events", 1, "dpv:hasDuration"),
    I.EVENT_ENTITY: ("ours:events", 1, "dpv:hasEntity"),
    I.EVENT_TYPE: ("ours:events", 1, "ours:happened"),
    I.EVENT_STATE: ("ours:events", 1, "dpv:hasConsentStatus"),
}
# Two that are whole parts: with them goes what lies in them.
PARTS = {
    I.INFORMATION: ("dpv:hasPersonalData", {I.INFORMATION, I.DATA_TYPE}),
    I.CONTROLLERS: (
        "dpv:hasDataController",
        {
            *(I.CONTROLLERS, I.PARTY_ID, I.PARTY_ADDRESS, I.PARTY_NAME),
            *(I.PARTY_CONTACT, I.PARTY_TYPE),
        },
    ),
}


def without(made, path):
    made = copy.deepcopy(made)
    part = made
    for step in path[:-1]:
        part = part[step]
    del part[path[-1]]
    return made


def test_whole_record_and_receipt_lack_nothing():
    assert missing(document(RECORD)) == ()
    assert missing(document(RECORD, is_receipt=True)) == ()


@pytest.mark.parametrize("item", LIES)
def test_each_item_that_is_taken_out_is_missed_and_no_other(item):
    assert missing(without(document(RECORD, is_receipt=True), LIES[item])) == (item,)


@pytest.mark.parametrize("item", PARTS)
def test_part_that_is_taken_out_is_missed_with_all_that_lies_in_it(item):
    part, gone = PARTS[item]
    assert set(missing(without(document(RECORD), (part,)))) == gone


def test_no_item_is_left_out_of_these_tests():
    assert {*LIES, *PARTS} == set(Item)


def test_record_needs_no_number_of_a_receipt():
    assert Item.RECEIPT_ID not in missing(document(RECORD))


def test_paper_to_which_nothing_happened_misses_every_item_of_an_event():
    gone = missing(document(record(events=())))
    assert set(gone) == {item for item in Item if item.startswith("event_")}
