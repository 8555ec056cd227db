"""No form exists in a language before a second person has read every word of it."""

import json

import pytest
from django.db import IntegrityError, transaction

from relations.consent import wordings
from relations.consent.models import Wording
from relations.consent.values import ClauseState
from relations.consent.wordings import approve, freeze, load_wordings, send_back, write_wording
from relations.privacy.models import Role, User
from relations.privacy.refused import Refused
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db


def refused(act, **how):
    with pytest.raises(Refused) as caught:
        act(**how)
    return caught.value.codes


def texts(wording, **changed):
    held = {clause.key: (clause.heading, clause.text) for clause in wording.clauses.all()}
    return held | changed


def test_drafts_come_in_unread_in_four_languages_and_only_once():
    held = desk.wordings()
    assert set(held) == set(desk.LANGUAGES)
    assert not any(wordings.is_frozen(wording) for wording in held.values())
    assert {wording.clauses.count() for wording in held.values()} == {15}
    assert load_wordings(path=desk.WORDINGS, by=cast.artist()) == []


def test_languages_without_the_same_clauses_are_not_taken_in(tmp_path):
    held = json.loads(desk.WORDINGS.read_text(encoding="utf-8"))
    held["languages"]["ar"]["clauses"].pop()
    path = tmp_path / "wordings.json"
    path.write_text(json.dumps(held), encoding="utf-8")
    with pytest.raises(ValueError, match=r": ar$"):
        load_wordings(path=path, by=cast.artist())
    assert not Wording.objects.exists()


def test_wording_is_frozen_by_a_second_person_who_read_every_clause():
    wording = desk.frozen("fr")["fr"]
    assert wordings.is_frozen(wording)
    assert (wording.read_by, wording.read_on) == (desk.reader(), cast.TODAY)
    assert not wordings.is_frozen(None)


def test_writer_cannot_read_what_they_wrote():
    writer = User.objects.create_user(
        "both", None, role=Role.ARTIST, called="Both", languages=["fr"]
    )
    load_wordings(path=desk.WORDINGS, by=writer)
    wording = wordings.latest("fr")
    clause = wording.clauses.first()
    assert refused(approve, clause=clause, by=writer, on=cast.TODAY) == ("same_person",)
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
    approve(clause=wording.clauses.first(), by=desk.reader(), on=cast.TODAY)
    assert refused(freeze, wording=wording, by=desk.reader(), at=desk.AT) == ("not_approved",)


def test_clause_that_is_sent_back_is_written_anew_before_it_is_approved():
    wording = desk.wordings()["fr"]
    clause = wording.clauses.get(key="who")
    send_back(clause=clause, by=desk.reader(), on=cast.TODAY)
    how = {"clause": clause, "by": desk.reader(), "on": cast.TODAY}
    assert refused(approve, **how) == ("sent_back",)
    write_wording(
        language="fr", texts=texts(wording, who=("Qui", "Nous sommes deux.")), by=cast.artist()
    )
    clause.refresh_from_db()
    assert (clause.state, clause.text) == (ClauseState.TRANSLATED, "Nous sommes deux.")
    assert approve(**how).state == ClauseState.APPROVED


def test_frozen_wording_is_never_touched():
    wording = desk.frozen("fr")["fr"]
    clause = wording.clauses.get(key="who")
    how = {"clause": clause, "by": desk.reader(), "on": cast.TODAY}
    assert refused(approve, **how) == refused(send_back, **how) == ("frozen",)
    assert refused(freeze, wording=wording, by=desk.reader(), at=desk.AT) == ("frozen",)


def test_edit_of_a_frozen_wording_is_a_new_version_in_which_old_clauses_keep_their_reader():
    old = desk.frozen("fr")["fr"]
    new = write_wording(
        language="fr", texts=texts(old, who=("Qui", "Nous sommes deux.")), by=cast.artist()
    )
    assert (new.version, wordings.is_frozen(new)) == (old.version + 1, False)
    waiting = new.clauses.exclude(state=ClauseState.APPROVED)
    assert [clause.key for clause in waiting] == ["who"]
    assert old.clauses.get(key="who").text != "Nous sommes deux."
    approve(clause=waiting[0], by=desk.reader(), on=cast.TODAY)
    assert wordings.is_frozen(freeze(wording=new, by=desk.reader(), at=desk.AT))


def test_reader_who_writes_a_new_version_reads_none_of_it():
    old = desk.frozen("fr")["fr"]
    new = write_wording(
        language="fr", texts=texts(old, who=("Qui", "Nous deux.")), by=desk.reader()
    )
    assert not new.clauses.filter(state=ClauseState.APPROVED).exists()


def test_edit_of_a_version_nobody_can_print_stays_in_it():
    wording = desk.wordings()["fr"]
    for clause in wording.clauses.all():
        approve(clause=clause, by=desk.reader(), on=cast.TODAY)
    same = write_wording(
        language="fr", texts=texts(wording, who=("Qui", "Nous deux.")), by=cast.artist()
    )
    assert same == wording
    waiting = wording.clauses.exclude(state=ClauseState.APPROVED)
    assert [(clause.key, clause.approved_by) for clause in waiting] == [("who", None)]


def test_words_on_the_lines_may_change_alone():
    wording = desk.wordings()["fr"]
    write_wording(language="fr", texts=texts(wording), labels={"yes": "oui !"}, by=cast.artist())
    wording.refresh_from_db()
    assert wording.labels["yes"] == "oui !"
    assert wording.labels["no"]


def test_new_language_begins_from_the_clauses_of_another():
    model = desk.wordings()["fr"]
    made = write_wording(
        language="pt", texts=texts(model), labels={"language": "Português"}, by=cast.artist()
    )
    assert (made.language, made.version, made.clauses.count()) == ("pt", model.version, 15)
    assert {clause.state for clause in made.clauses.all()} == {ClauseState.TRANSLATED}


@pytest.mark.parametrize(
    ("changed", "labels", "code"),
    [
        ({}, None, "nothing_changed"),
        ({"more": ("A", "B")}, None, "unknown_clause"),
        ({}, {"colour": "rouge"}, "unknown_clause"),
        ({"who": ("Qui", "  ")}, None, "clause_missing"),
        ({}, {"page_of": "page {page}"}, "slots"),
    ],
)
def test_wording_that_could_not_be_printed_is_refused(changed, labels, code):
    wording = desk.wordings()["fr"]
    how = {"language": "fr", "by": cast.artist(), "labels": labels}
    assert refused(write_wording, texts=texts(wording, **changed), **how) == (code,)


def test_clause_left_out_is_refused():
    held = texts(desk.wordings()["fr"])
    held.pop("who")
    how = {"language": "fr", "by": cast.artist()}
    assert refused(write_wording, texts=held, **how) == ("clause_missing",)


def test_nothing_is_written_where_no_wording_shows_the_clauses():
    how = {"language": "fr", "by": cast.artist(), "texts": {}}
    assert refused(write_wording, **how) == ("no_model",)
