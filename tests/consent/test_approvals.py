"""No form exists in a language before a second person has said back every word of it."""

import pytest
from django.db import IntegrityError, transaction

from relations.consent.approvals import (
    Press,
    approve,
    freeze,
    lines_seal,
    read_back,
    read_page,
    seal,
    send_back,
)
from relations.consent.shipped import load_wordings
from relations.consent.source import latest
from relations.consent.texts import Wording
from relations.consent.values import ClauseState
from relations.consent.wordings import write_wording
from relations.privacy.models import Role, User
from tests import cast
from tests.consent import desk
from tests.consent.test_wordings import refused, texts

pytestmark = pytest.mark.django_db


def test_wording_is_frozen_by_a_second_person_who_read_every_clause():
    wording = desk.frozen("fr")["fr"]
    assert wording.frozen_at
    assert (wording.read_by, wording.read_on) == (desk.reader(), cast.TODAY)


def test_writer_cannot_read_what_they_wrote():
    writer = User.objects.create_user(
        "both", None, role=Role.ARTIST, called="Both", languages=["fr"]
    )
    load_wordings(path=desk.WORDINGS, by=writer)
    wording = latest("fr")
    clause = wording.clauses.first()
    assert refused(approve, clause=clause, by=writer, on=cast.TODAY, words="It says.") == (
        "same_person",
    )
    assert refused(freeze, wording=wording, by=writer, at=desk.AT) == ("same_person",)


def test_database_keeps_writer_and_reader_apart():
    wording = desk.wordings()["fr"]
    with pytest.raises(IntegrityError), transaction.atomic():
        Wording.objects.filter(pk=wording.pk).update(read_by=cast.artist(), read_on=cast.TODAY)


def test_reader_answers_for_the_languages_they_were_given():
    wording = desk.wordings()["fr"]
    how = {"by": cast.wording_reader(), "on": cast.TODAY}
    assert refused(approve, clause=wording.clauses.first(), **how) == ("not_your_language",)


def test_wording_with_a_waiting_clause_is_not_frozen():
    wording = desk.wordings()["fr"]
    approve(clause=wording.clauses.first(), by=desk.reader(), on=cast.TODAY, words="It says.")
    assert refused(freeze, wording=wording, by=desk.reader(), at=desk.AT) == ("not_approved",)


def test_frozen_wording_is_never_touched():
    wording = desk.frozen("fr")["fr"]
    clause = wording.clauses.get(paper="form", key="who")
    how = {"clause": clause, "by": desk.reader(), "on": cast.TODAY}
    assert refused(approve, **how) == refused(send_back, why="No.", **how) == ("frozen",)
    assert refused(freeze, wording=wording, by=desk.reader(), at=desk.AT) == ("frozen",)


def clause_of(wording, key="who"):
    return wording.clauses.get(paper="form", key=key)


def how(clause, by=None):
    return {"clause": clause, "by": by or desk.reader(), "on": cast.TODAY}


def test_clause_is_approved_only_after_somebody_said_what_it_says():
    clause = clause_of(desk.wordings()["fr"])
    assert refused(approve, **how(clause)) == ("not_read_back",)
    said = read_back(words="We are two.", **how(clause))
    assert (said.state, said.read_back_by) == (ClauseState.READ_BACK, desk.reader())
    done = approve(**how(clause))
    assert (done.state, done.approved_by, done.approved_on) == (
        ClauseState.APPROVED, desk.reader(), cast.TODAY
    )  # fmt: skip
    assert (done.read_back, done.approved_words) == ("We are two.", done.words)


def test_saying_nothing_says_nothing_back():
    clause = clause_of(desk.wordings()["fr"])
    assert refused(read_back, words="  ", **how(clause)) == ("not_read_back",)


def test_other_words_said_back_ask_for_approval_again_and_the_same_do_not():
    clause = clause_of(desk.wordings()["fr"])
    approve(words="We are two.", **how(clause))
    assert read_back(words="We are two.", **how(clause)).state == ClauseState.APPROVED
    again = read_back(words="They are two.", **how(clause))
    assert (again.state, again.approved_by, again.approved_on) == (
        ClauseState.READ_BACK, None, None
    )  # fmt: skip


def test_clause_is_sent_back_with_one_line_why():
    clause = clause_of(desk.wordings()["fr"])
    assert refused(send_back, why=" ", **how(clause)) == ("why_missing",)
    approve(words="We are two.", **how(clause))
    back = send_back(why="A word nobody uses here.", **how(clause))
    assert (back.state, back.sent_back_by) == (ClauseState.DRAFTED, desk.reader())
    assert (back.why, back.read_back, back.approved_by) == ("A word nobody uses here.", "", None)
    assert back.approved_words == back.words, "so that its reader sees what changes"


def test_clause_whose_source_has_changed_is_not_approved():
    held = desk.wordings()
    write_wording(language="en", texts=texts(held["en"], who=("Who", "We two.")), by=cast.artist())
    assert refused(approve, words="We two.", **how(clause_of(held["fr"]))) == ("source_moved",)
    assert send_back(why="Late.", **how(clause_of(held["fr"]))).why == "Late."


def test_who_wrote_a_clause_freezes_nothing():
    wording = desk.wordings()["fr"]
    write_wording(language="fr", texts=texts(wording, who=("Qui", "Deux.")), by=desk.reader())
    assert refused(freeze, wording=wording, by=desk.reader(), at=desk.AT) == ("same_person",)


def test_freezing_says_that_the_lines_were_compared_with_the_artists():
    held = desk.frozen("fr")
    write_wording(language="en", texts=texts(held["en"]), labels={"yes": "yes!"}, by=cast.artist())
    opened = latest("fr")
    assert (opened.version, opened.lines_edition) == (2, 1)
    assert freeze(wording=opened, by=desk.reader(), at=desk.AT).lines_edition == 2


def test_freezing_needs_no_wording_of_the_artists_own(settings):
    settings.RELATIONS_SOURCE_LANGUAGE = "sv"
    assert desk.frozen("fr")["fr"].frozen_at


def press(act, name="", said=None, whys=None, seals=None):
    return Press(act, name, said or {}, whys or {}, seals or {})


def page(wording, *pressed, **more):
    return {
        "wording": wording,
        "by": desk.reader(),
        "at": desk.AT,
        "press": press(*pressed, **more),
    }


def test_one_press_keeps_all_that_was_typed_and_does_what_was_pressed():
    wording = desk.wordings()["fr"]
    said = {"who": "We are two.", "plain": "We take a picture.", "keep": ""}
    read_page(**page(wording, "approve", "who", said=said, whys={"day": "Too long?"}))
    states = dict(wording.clauses.filter(paper="form").values_list("key", "state"))
    assert [states[key] for key in ("who", "plain", "keep", "day")] == [
        "approved", "read_back", "drafted", "drafted"
    ]  # fmt: skip
    day = clause_of(wording, "day")
    assert (day.why, day.sent_back_by) == ("Too long?", None)
    read_page(**page(wording, "send_back", "day", whys={"day": "Too long."}))
    day.refresh_from_db()
    assert (day.why, day.sent_back_by) == ("Too long.", desk.reader())
    read_page(**page(wording, "keep", said={"day": "", "who": "We are two."}))
    assert clause_of(wording).state == ClauseState.APPROVED


def test_press_that_is_refused_keeps_nothing():
    wording = desk.wordings()["fr"]
    how = page(wording, "send_back", "who", said={"plain": "We take a picture."})
    assert refused(read_page, **how) == ("why_missing",)
    assert clause_of(wording, "plain").read_back == ""


def test_words_that_changed_under_the_eyes_of_their_reader_are_not_approved():
    wording = desk.wordings()["fr"]
    clause = clause_of(wording)
    old = {"who": seal(clause.words)}
    write_wording(language="fr", texts=texts(wording, who=("Qui", "Deux.")), by=cast.artist())
    said = {"who": "We are two."}
    for how in (("approve", "who"), ("send_back", "who"), ("keep", "")):
        asked = page(wording, *how, said=said, whys={"who": "x"}, seals=old)
        assert refused(read_page, **asked) == ("words_changed",)
    clause.refresh_from_db()
    now = {"who": seal(clause.words)}
    read_page(**page(wording, "approve", "who", said=said, seals=now))
    assert clause_of(wording).state == ClauseState.APPROVED


def test_words_on_the_lines_that_changed_meanwhile_are_not_frozen():
    wording = desk.wordings()["fr"]
    for clause in wording.clauses.all():
        desk.approve(clause)
    how = page(wording, "freeze", seals={"": "another"})
    assert refused(read_page, **how) == ("words_changed",)
    read_page(**page(wording, "freeze", seals={"": lines_seal(wording)}))
    assert latest("fr").frozen_at


def test_desk_reads_a_wording_at_once_as_single_presses_would():
    held = desk.wordings()
    desk.read(held["fr"])
    at_once = list(held["fr"].clauses.values())
    for clause in desk.wordings()["ar"].clauses.all():
        desk.approve(clause)
    singly = list(held["ar"].clauses.values())
    own = {"id", "wording_id", "heading", "text", "approved_words"}
    assert [{k: v for k, v in row.items() if k not in own} for row in at_once] == [
        {k: v for k, v in row.items() if k not in own} for row in singly
    ]
