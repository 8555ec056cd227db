"""The record of one form for others: DPV terms, fields of ISO/IEC TS 27560, nobody named."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from .boxes import Answers
from .events import TAKEN_BACK, Event, Happened, worth
from .mandatory import RECEIPT, missing
from .record import CONSENT, DPV, Consent, UseStatus
from .values import NameForm, Use

SCHEMA = f"{DPV.removesuffix('#')}/schema/dpv-27560"
MEDIA_TYPE = "application/ld+json"
VERSION = "ISO/IEC TS 27560:2023 in DPV 2.3"
# Names of our own, for what no vocabulary has: a line of the form, whether an hour is known.
OURS = "urn:relations:record:"
# All that is needed to read it stands in it: nothing is fetched to understand a record.
CONTEXT: Mapping[str, Any] = {
    "dct": "http://purl.org/dc/terms/",
    "dpv": DPV,
    "loc": "https://w3id.org/dpv/loc#",
    "ours": OURS,
    "pd": "https://w3id.org/dpv/pd#",
    "xsd": "http://www.w3.org/2001/XMLSchema#",
    "dct:conformsTo": {"@type": "@id"},
    "dpv:hasConsentStatus": {"@type": "@id"},
    "dpv:hasEntity": {"@type": "@id"},
    "dpv:isIndicatedAtTime": {"@type": "xsd:dateTime"},
    "ours:events": {"@container": "@list"},
    # An empty list is "nowhere"; without one there is no limit.
    "ours:only_countries": {"@container": "@list"},
}
# Once no use rests on it any more. Source: the project's own clocks (French civil limitation,
# from memory).
KEPT_FOR = "P5Y"
PROJECT = f"{OURS}project"
# Of the paper, what is said by ticks, days and codes. Never the agreed name, nor their own words.
SAID = (
    *("may_keep", "only_countries", "not_countries", "seen_everywhere", "first_day", "last_day"),
    *("name_form", "place_word", "no_face", "show_first", "approves_captions"),
    *("if_cannot_answer", "if_died", "copy_kept"),
)
RECIPIENTS: Mapping[Use, str] = {
    Use.EXHIBITION: "curators and visitors",
    Use.BOOK: "publishers, printers and readers",
    Use.PRESS: "editors and readers",
    Use.WEB: "anybody, everywhere",
    Use.SOCIAL_MEDIA: "anybody, everywhere, and whoever runs the service",
    Use.TEACHING: "teachers and those they teach",
    Use.ARCHIVE: "archivists and those they let in",
    Use.FUND_RAISING: "those who give money",
    Use.PRINT_SALE: "buyers and dealers",
    Use.PORTFOLIO: "those to whom the artist shows the work",
    Use.JURY: "members of a jury",
}


@dataclass(frozen=True, slots=True)
class Project:
    """Who answers for the pictures, as the settings say; "" is not said there, and is missing."""

    name: str = ""
    address: str = ""
    contact: str = ""
    stop_number: str = ""
    jurisdiction: str = ""  # ISO 3166-1 alpha-2, as is where the register is kept
    stored_in: str = ""


@dataclass(frozen=True, slots=True)
class Record:
    """All that the record of one form is made of: codes, days, ticks, and the project's address.

    `languages` are those of the paper, the sitter's first; `digest` the SHA-256 of what was
    printed, in hex; `answers` the boxes as read, `is_settled` whether they count as evidence.
    """

    serial: str
    code: str
    version: str
    languages: tuple[str, ...]
    digest: str
    answers: Answers
    is_settled: bool
    statuses: Mapping[Use, UseStatus]
    events: tuple[Event, ...]
    project: Project


def document(record: Record, *, is_receipt: bool = False) -> dict[str, Any]:
    """The record as a JSON-LD document; a receipt is the same with a number of its own.

    The items that a complete record would have and this one has not stand in it by name under
    "ours:lacks". No status is given for the paper as a whole: each of its uses has one.
    """
    made = _without_empty(
        {
            "@context": CONTEXT,
            "@id": f"{OURS}form:{record.serial}",
            "@type": RECEIPT if is_receipt else "dpv:ConsentRecord",
            "dct:conformsTo": f"{SCHEMA}#{'receipt' if is_receipt else 'record'}",
            "dct:hasVersion": VERSION,
            "dct:identifier": record.serial,
            "dpv:hasDataSubject": _sitter(record),
            "dpv:hasDataController": _controller(record.project),
            "dpv:hasNotice": _notice(record),
            "dpv:hasProcess": [_process(record, use) for use in Use],
            "dpv:hasPersonalData": _personal_data(record.answers),
            "dpv:hasStorageCondition": _storage(record.project),
            "dpv:hasJurisdiction": _country(record.project.jurisdiction),
            "dpv:hasConsentControl": _withdrawal(record.project),
            "ours:answers": _answers(record),
            "ours:events": _events(record),
        }
    )
    if is_receipt:
        made["ours:receipt"] = _receipt_number(made)
    if lacking := missing(made):
        made["ours:lacks"] = list(lacking)
    return made


def to_bytes(document: Mapping[str, Any]) -> bytes:
    """The same bytes each time: keys sorted, nothing between them, UTF-8.

    As RFC 8785 asks, but for one thing: it sorts keys by their UTF-16 units, this by code points.
    Both are the same here, where every key is ASCII and every number is small and whole.
    """
    text = json.dumps(document, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
    return text.encode()


def _without_empty(made: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in made.items() if value}


def _sitter(record: Record) -> dict[str, Any]:
    if not record.code:
        return {}
    return {
        "@id": f"{OURS}person:{record.code}",
        "@type": "dpv:DataSubject",
        "dct:identifier": record.code,
    }


def _controller(project: Project) -> dict[str, Any]:
    said = {
        "dpv:hasName": project.name,
        "dpv:hasAddress": project.address,
        "dpv:hasContact": project.contact or project.stop_number,
    }
    return {"@id": PROJECT, "@type": "dpv:DataController", **_without_empty(said)}


def _notice(record: Record) -> dict[str, Any]:
    """The wording they were given: its version, its languages, and what was printed of it."""
    said = {
        "dct:hasVersion": record.version,
        "dct:language": list(record.languages),
        "ours:sha256": record.digest,
    }
    return {"@type": "dpv:ConsentNotice", **_without_empty(said)}


def _process(record: Record, use: Use) -> dict[str, Any]:
    """One line of the form: what for, who sees it, what was ticked, and where it stands now."""
    made: dict[str, Any] = {
        "@id": f"{OURS}form:{record.serial}:{use}",
        "@type": "dpv:Process",
        "dpv:hasPurpose": {"@type": "dpv:Purpose", "dct:identifier": use.value},
        "dpv:hasRecipient": {"@type": "dpv:Recipient", "dct:description": RECIPIENTS[use]},
        "dpv:hasConsentStatus": f"dpv:{CONSENT[record.statuses[use]]}",
    }
    if record.answers["given_on"]:
        made["ours:answer"] = use in record.answers["uses"]
    return made


def _personal_data(answers: Answers) -> list[dict[str, str]]:
    is_named = answers["name_form"] != NameForm.NONE
    return [{"@type": "pd:Picture"}, *([{"@type": "pd:Name"}] if is_named else [])]


def _storage(project: Project) -> dict[str, Any]:
    after = "after the last use that rests on it"
    made: dict[str, Any] = {
        "@type": "dpv:StorageCondition",
        "dpv:hasDuration": {
            "@type": "dpv:StorageDuration",
            "ours:length": {"@type": "xsd:duration", "@value": KEPT_FOR},
            "dct:description": after,
        },
    }
    return {**made, **_without_empty({"dpv:hasLocation": _country(project.stored_in)})}


def _country(code: str) -> dict[str, str]:
    return {"@id": f"loc:{code}"} if code else {}


def _withdrawal(project: Project) -> dict[str, Any]:
    how = "Say stop to anybody of the project, in any words; no reason is needed."
    return {
        "@type": "dpv:WithdrawConsent",
        "dct:description": how,
        **_without_empty({"ours:stop_number": project.stop_number}),
    }


def _answers(record: Record) -> dict[str, Any]:
    """What else was ticked, by the names of the boxes; None is left out, a list may be empty."""
    said = {f"ours:{box}": record.answers[box] for box in SAID}
    made = {box: value for box, value in said.items() if value is not None}
    return {
        **made,
        "ours:is_settled": record.is_settled,
        # That there is a condition, so that nobody takes the ticks for all; never its words.
        "ours:has_own_condition": bool(record.answers["own_condition"]),
    }


def _events(record: Record) -> list[dict[str, Any]]:
    states = worth(
        record.events, is_settled=record.is_settled, says_yes=bool(record.answers["uses"])
    )
    return [_event(event, state, record) for event, state in states]


def _event(event: Event, state: Consent, record: Record) -> dict[str, Any]:
    by_them = event.what is Happened.GIVEN or event.what in TAKEN_BACK
    about = {"ours:use": event.use, "ours:picture": event.picture}
    return {
        "ours:happened": event.what.value,
        "dpv:isIndicatedAtTime": event.at.isoformat(),
        "ours:hour_is_known": event.has_hour,
        "dpv:hasConsentStatus": f"dpv:{state}",
        "dpv:hasDuration": _lasting(record.answers["last_day"]),
        **_without_empty(about),
        "dpv:hasEntity": f"{OURS}person:{record.code}" if by_them else PROJECT,
    }


def _lasting(last_day: str | None) -> dict[str, Any]:
    if last_day is None:
        return {"@type": "dpv:UntilEventDuration", "dct:description": "until it is taken back"}
    return {
        "@type": "dpv:UntilTimeDuration",
        "dct:valid": {"@type": "xsd:date", "@value": last_day},
    }


def _receipt_number(made: Mapping[str, Any]) -> str:
    """The same for the same receipt, another as soon as anything in it is another."""
    return f"{made['dct:identifier']}/{hashlib.sha256(to_bytes(made)).hexdigest()[:12]}"
