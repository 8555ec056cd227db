"""What a consent record must hold, item by item, and which of it a document does not."""

from collections.abc import Iterator, Mapping, Sequence
from enum import StrEnum
from typing import Any

RECEIPT = "dpv:ConsentReceipt"


class Item(StrEnum):
    """What a record must hold; beside each its number in ISO/IEC TS 27560:2023.

    Source of the numbers: the DPV guide "consent-27560"; the standard's own text was not at hand.
    """

    SCHEMA_VERSION = "schema_version"  # header
    RECORD_ID = "record_id"
    PRINCIPAL_ID = "principal_id"
    RECEIPT_ID = "receipt_id"  # of a receipt
    NOTICE = "notice"  # 6.3.4.1
    LANGUAGE = "language"  # 6.3.4.2
    PURPOSE = "purpose"  # 6.3.4.3 and .4
    INFORMATION = "information"  # 6.3.4.7
    CONTROLLERS = "controllers"  # 6.3.4.8
    STORED_IN = "stored_in"  # 6.3.4.11
    RETENTION = "retention"  # 6.3.4.12
    JURISDICTION = "jurisdiction"  # 6.3.4.16
    RECIPIENTS = "recipients"  # 6.3.4.17
    WITHDRAWAL = "withdrawal"  # 6.3.4.18
    DATA_TYPE = "data_type"  # 6.3.5.1
    PARTY_ID = "party_id"  # 6.3.6
    PARTY_ADDRESS = "party_address"
    PARTY_NAME = "party_name"  # 6.3.6.6
    PARTY_CONTACT = "party_contact"  # 6.3.6.8
    PARTY_TYPE = "party_type"  # 6.3.6.9
    EVENT_TIME = "event_time"  # 6.3.7.1
    EVENT_DURATION = "event_duration"  # 6.3.7.2
    EVENT_ENTITY = "event_entity"  # 6.3.7.3
    EVENT_TYPE = "event_type"  # 6.3.7.4
    EVENT_STATE = "event_state"  # 6.3.7.6


def missing(document: Mapping[str, Any]) -> tuple[Item, ...]:
    """The mandatory items that a record, or a receipt, does not hold, in their order."""
    is_receipt = document.get("@type") == RECEIPT
    there = {
        **dict(_of_header(document)),
        **dict(_of_processing(document)),
        **dict(_of_party(document.get("dpv:hasDataController") or {})),
        **dict(_of_events(document.get("ours:events") or [])),
    }
    return tuple(
        item for item in Item if not there[item] and (is_receipt or item is not Item.RECEIPT_ID)
    )


Held = Iterator[tuple[Item, bool]]


def _of_header(document: Mapping[str, Any]) -> Held:
    yield Item.SCHEMA_VERSION, bool(document.get("dct:hasVersion"))
    yield Item.RECORD_ID, bool(document.get("dct:identifier"))
    yield Item.PRINCIPAL_ID, _has(document, "dpv:hasDataSubject", "dct:identifier")
    yield Item.RECEIPT_ID, bool(document.get("ours:receipt"))


def _of_processing(document: Mapping[str, Any]) -> Held:
    uses = document.get("dpv:hasProcess") or []
    data = document.get("dpv:hasPersonalData") or []
    yield Item.NOTICE, _has(document, "dpv:hasNotice", "dct:hasVersion")
    yield Item.LANGUAGE, _has(document, "dpv:hasNotice", "dct:language")
    yield Item.PURPOSE, _each(uses, "dpv:hasPurpose")
    yield Item.INFORMATION, bool(data)
    yield Item.CONTROLLERS, bool(document.get("dpv:hasDataController"))
    yield Item.STORED_IN, _has(document, "dpv:hasStorageCondition", "dpv:hasLocation")
    yield Item.RETENTION, _has(document, "dpv:hasStorageCondition", "dpv:hasDuration")
    yield Item.JURISDICTION, bool(document.get("dpv:hasJurisdiction"))
    yield Item.RECIPIENTS, _each(uses, "dpv:hasRecipient")
    yield Item.WITHDRAWAL, _has(document, "dpv:hasConsentControl", "dct:description")
    yield Item.DATA_TYPE, _each(data, "@type")


def _of_party(party: Mapping[str, Any]) -> Held:
    yield Item.PARTY_ID, bool(party.get("@id"))
    yield Item.PARTY_ADDRESS, bool(party.get("dpv:hasAddress"))
    yield Item.PARTY_NAME, bool(party.get("dpv:hasName"))
    yield Item.PARTY_CONTACT, bool(party.get("dpv:hasContact"))
    yield Item.PARTY_TYPE, bool(party.get("@type"))


def _of_events(events: Sequence[Mapping[str, Any]]) -> Held:
    yield Item.EVENT_TIME, _each(events, "dpv:isIndicatedAtTime")
    yield Item.EVENT_DURATION, _each(events, "dpv:hasDuration")
    yield Item.EVENT_ENTITY, _each(events, "dpv:hasEntity")
    yield Item.EVENT_TYPE, _each(events, "ours:happened")
    yield Item.EVENT_STATE, _each(events, "dpv:hasConsentStatus")


def _has(document: Mapping[str, Any], part: str, key: str) -> bool:
    return bool((document.get(part) or {}).get(key))


def _each(parts: Sequence[Mapping[str, Any]], key: str) -> bool:
    return bool(parts) and all(part.get(key) for part in parts)
