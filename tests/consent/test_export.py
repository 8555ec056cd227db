"""The record of a form for others: its triples, its bytes, and nobody in it."""

import json
import socket
from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rdflib import RDF, XSD, Literal, Namespace, URIRef

from relations.consent import export
from relations.consent.boxes import BLANK, whole
from relations.consent.events import Event, Happened
from relations.consent.export import SAID, Project, document, to_bytes
from relations.consent.record import CONSENT, Consent, UseStatus
from relations.consent.values import Use
from tests.consent.records import ANSWERS, RECORD, graph, record

DPV = Namespace("https://w3id.org/dpv#")  # checks.md 1.1 [P]
DCT = Namespace("http://purl.org/dc/terms/")
OURS = Namespace("urn:relations:record:")
FORM = OURS["form:70042-74"]
# What is looked for in a record, none of which may stand there.
PLANTED = ("Zéphirine Kaddour-Lopes", "06 39 98 00 42", "+33639980042", "3 rue des Oursins")
TICKS = {
    "given_on": st.none() | st.dates().map(date.isoformat),
    "may_keep": st.none() | st.booleans(),
    "copy_kept": st.none() | st.booleans(),
    "uses": st.lists(st.sampled_from([use.value for use in Use]), unique=True),
    "only_countries": st.none() | st.lists(st.sampled_from(["FR", "PT", "MA"]), unique=True),
    "not_countries": st.lists(st.sampled_from(["FR", "PT", "MA"]), unique=True),
    "last_day": st.none() | st.dates().map(date.isoformat),
    "name_form": st.sampled_from(["full", "first", "pseudonym", "none"]),
    "place_word": st.sampled_from(["none", "country", "city", "district", "exact"]),
    "if_died": st.sampled_from(["go on", "ask", "stop"]),
    **{box: st.booleans() for box in ("no_face", "show_first", "seen_everywhere")},
    # Whatever their own hand wrote, it is one of the planted words here.
    **{box: st.sampled_from(PLANTED) for box in ("agreed_name", "own_condition")},
}
ANY_ANSWERS = st.fixed_dictionaries(TICKS).map(whole)


def triples(made, **rest):
    return graph(to_bytes(document(made, **rest)))


def statuses(triples):
    """Use -> the one status that its line has; more or fewer than one stops."""
    found = {}
    for use in Use:
        (status,) = triples.objects(OURS[f"form:70042-74:{use}"], DPV.hasConsentStatus)
        found[use] = status
    return found


def test_record_conforms_to_the_schema_of_27560():
    """Source: checks.md 1.1, rdflib over DPV 2.3 [P]."""
    found = triples(RECORD)
    assert (FORM, RDF.type, DPV.ConsentRecord) in found
    schema = "https://w3id.org/dpv/schema/dpv-27560"
    assert list(found.objects(FORM, DCT.conformsTo)) == [URIRef(f"{schema}#record")]
    receipt = triples(RECORD, is_receipt=True)
    assert list(receipt.objects(FORM, DCT.conformsTo)) == [URIRef(f"{schema}#receipt")]
    assert (FORM, RDF.type, DPV.ConsentReceipt) in receipt


def test_each_use_has_one_status_and_its_answer():
    found = triples(RECORD)
    for use, status in statuses(found).items():
        is_yes = use in ANSWERS["uses"]
        assert status == (DPV.ConsentGiven if is_yes else DPV.ConsentRefused)
        (answer,) = found.objects(OURS[f"form:70042-74:{use}"], OURS.answer)
        assert answer.toPython() is is_yes


@pytest.mark.parametrize("status", UseStatus)
def test_every_status_of_ours_comes_out_as_its_one_term(status):
    found = statuses(triples(record(statuses=dict.fromkeys(Use, status))))
    assert set(found.values()) == {DPV[CONSENT[status]]}


def test_all_ten_terms_can_be_reached():
    assert {CONSENT[status] for status in UseStatus} == set(Consent)
    assert len(Consent) == 10


def test_taken_back_says_when_to_the_second_and_of_what():
    """Source: checks.md 1.1: isIndicatedAtTime is an xsd:dateTime [P]."""
    at = datetime(2026, 11, 23, 21, 10, tzinfo=UTC)
    no = Event(Happened.TAKEN_BACK_IN_PART, at, use=Use.WEB)
    found = triples(record(events=(*RECORD.events, no)))
    (event,) = found.subjects(OURS.happened, Literal("taken_back_in_part"))
    assert (event, DPV.hasConsentStatus, DPV.ConsentWithdrawn) in found
    assert (event, OURS.use, Literal("web")) in found
    (when,) = found.objects(event, DPV.isIndicatedAtTime)
    assert when.datatype == XSD.dateTime
    assert when.toPython() == at


def test_all_events_stand_in_it_in_their_order_and_none_is_written_over():
    later = Event(Happened.REPLACED, datetime(2027, 1, 1, tzinfo=UTC), has_hour=False)
    before = document(RECORD)["ours:events"]
    after = document(record(events=(later, *RECORD.events)))["ours:events"]
    assert after[:-1] == before
    assert after[-1]["ours:happened"] == "replaced"
    assert [one["ours:hour_is_known"] for one in before] == [True, False, False]
    assert len(list(triples(RECORD).objects(FORM, OURS.events))) == 1  # one list, in order


def test_nowhere_is_told_from_no_limit():
    said = {
        name: whole({**ANSWERS, "only_countries": countries})
        for name, countries in {"nowhere": [], "no limit": None}.items()
    }
    found = {name: triples(record(answers=answers)) for name, answers in said.items()}
    assert list(found["nowhere"].objects(None, OURS.only_countries)) == [RDF.nil]
    assert not list(found["no limit"].objects(None, OURS.only_countries))


def test_paper_that_nobody_answered_has_no_answers_to_uses():
    unread = record(answers=whole({}), is_settled=False)
    assert not list(triples(unread).objects(None, OURS.answer))


def test_form_of_the_name_stands_in_it_and_not_the_name():
    named, nameless = (
        [one["@type"] for one in document(record(answers=whole({**ANSWERS, "name_form": form})))[
            "dpv:hasPersonalData"
        ]]
        for form in ("pseudonym", "none")
    )  # fmt: skip
    assert (named, nameless) == (["pd:Picture", "pd:Name"], ["pd:Picture"])


def test_way_of_giving_is_left_out_since_it_could_tell_who_cannot_read():
    assert "way" not in SAID
    for way in ("mark_and_witness", "sign_language", "with_support", "child"):
        made = record(answers=whole({**ANSWERS, "way": way, "childs_answer": "yes"}))
        assert to_bytes(document(made)) == to_bytes(document(RECORD))


def test_same_record_is_the_same_bytes_sorted_and_tight():
    """As RFC 8785 (from memory) writes: sorted keys, no space, UTF-8, no escape but the needed."""
    content = to_bytes(document(RECORD))
    assert content == to_bytes(document(replace(RECORD)))
    said = json.loads(content)
    assert list(said) == sorted(said)
    assert b'": ' not in content
    assert b"Atelier du quai" in content
    keys = [key for part in _parts(said) for key in part]
    assert all(key.isascii() for key in keys)  # by code point and by UTF-16 unit is one order


def _parts(said):
    if isinstance(said, dict):
        yield said
    for one in said.values() if isinstance(said, dict) else said if isinstance(said, list) else ():
        yield from _parts(one)


def test_receipt_has_a_number_that_changes_with_what_it_says():
    def number(made):
        return document(made, is_receipt=True)["ours:receipt"]

    assert number(RECORD) == number(replace(RECORD))
    assert number(RECORD).startswith("70042-74/")
    assert number(RECORD) != number(record(code="13"))
    assert "ours:receipt" not in document(RECORD)


def test_record_that_lacks_something_says_what():
    assert "ours:lacks" not in document(RECORD)
    lacking = document(record(project=Project(), code=""))["ours:lacks"]
    assert lacking == [
        *("principal_id", "stored_in", "jurisdiction"),
        *("party_address", "party_name", "party_contact"),
    ]


def test_stop_number_is_how_a_project_without_another_contact_is_reached():
    made = document(record(project=replace(RECORD.project, contact="")))
    assert made["dpv:hasDataController"]["dpv:hasContact"] == RECORD.project.stop_number
    assert made["dpv:hasConsentControl"]["ours:stop_number"] == RECORD.project.stop_number


def test_it_is_read_without_asking_any_address(monkeypatch):
    def refuse(*_args, **_kwargs):
        raise AssertionError("a record asked the network")

    monkeypatch.setattr(socket.socket, "connect", refuse)
    monkeypatch.setattr(socket, "getaddrinfo", refuse)
    assert len(triples(RECORD)) > 100


@given(ANY_ANSWERS, st.booleans())
def test_whatever_is_answered_nothing_of_their_own_hand_is_in_it(answers, is_settled):
    content = to_bytes(document(record(answers=answers, is_settled=is_settled))).decode()
    for word in (*PLANTED, "phirine", "39 98", "639980042", "Oursins"):
        assert word not in content
    said = json.loads(content)["ours:answers"]
    assert said["ours:has_own_condition"] is True
    assert set(said) <= {f"ours:{box}" for box in (*SAID, "is_settled", "has_own_condition")}


def test_boxes_that_are_told_are_boxes_of_the_paper_and_none_is_free_words():
    assert set(SAID) < set(BLANK)
    assert not {"agreed_name", "own_condition", "way", "childs_answer"} & set(SAID)
    assert set(export.RECIPIENTS) == set(Use)
