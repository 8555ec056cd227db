"""Words are written clause by clause; what a second person read of the others stays read."""

import pytest

from relations.consent.approvals import approve, freeze, send_back
from relations.consent.texts import Clause, Wording
from relations.consent.values import ClauseState
from relations.consent.wordings import words_of, write_wording
from relations.documents.values import PaperKind
from relations.privacy.refused import Refused
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db


def refused(act, **how):
    with pytest.raises(Refused) as caught:
        act(**how)
    return caught.value.codes


def texts(wording, **changed):
    held = {clause.name: (clause.heading, clause.text) for clause in wording.clauses.all()}
    return held | changed


def test_edit_of_a_frozen_wording_is_a_new_version_in_which_old_clauses_keep_their_reader():
    old = desk.frozen("fr")["fr"]
    new = write_wording(
        language="fr", texts=texts(old, who=("Qui", "Nous sommes deux.")), by=cast.artist()
    )
    assert (new.version, new.frozen_at) == (old.version + 1, None)
    waiting = new.clauses.exclude(state=ClauseState.APPROVED)
    assert [clause.key for clause in waiting] == ["who"]
    assert old.clauses.get(paper="form", key="who").text != "Nous sommes deux."
    approve(clause=waiting[0], by=desk.reader(), on=cast.TODAY, words=desk.SAID_BACK)
    assert freeze(wording=new, by=desk.reader(), at=desk.AT).frozen_at == desk.AT


def test_reader_who_writes_a_new_version_reads_none_of_it():
    old = desk.frozen("fr")["fr"]
    new = write_wording(
        language="fr", texts=texts(old, who=("Qui", "Nous deux.")), by=desk.reader()
    )
    assert not new.clauses.filter(state=ClauseState.APPROVED).exists()


def test_edit_of_a_version_nobody_can_print_stays_in_it():
    wording = desk.wordings()["fr"]
    for clause in wording.clauses.all():
        approve(clause=clause, by=desk.reader(), on=cast.TODAY, words=desk.SAID_BACK)
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
        language="it", texts=texts(model), labels={"language": "Italiano"}, by=cast.artist()
    )
    count = model.clauses.count()
    assert (made.language, made.version, made.clauses.count()) == ("it", model.version, count)
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


def test_clause_that_is_sent_back_is_written_anew_before_it_is_approved():
    wording = desk.wordings()["fr"]
    clause = wording.clauses.get(paper="form", key="who")
    send_back(clause=clause, by=desk.reader(), on=cast.TODAY, why="Too hard a word.")
    how = {"clause": clause, "by": desk.reader(), "on": cast.TODAY, "words": "We are two."}
    assert refused(approve, **how) == ("sent_back",)
    write_wording(
        language="fr", texts=texts(wording, who=("Qui", "Nous sommes deux.")), by=cast.artist()
    )
    clause.refresh_from_db()
    assert (clause.state, clause.text) == (ClauseState.TRANSLATED, "Nous sommes deux.")
    assert (clause.why, clause.sent_back_by) == ("", None)
    assert approve(**how).state == ClauseState.APPROVED


def test_clause_that_was_sent_back_may_hold_as_it_is_where_its_writer_says_so():
    wording = desk.wordings()["fr"]
    clause = wording.clauses.get(paper="form", key="who")
    send_back(clause=clause, by=desk.reader(), on=cast.TODAY, why="Is this right?")
    how = {"language": "fr", "texts": texts(wording), "by": cast.artist()}
    assert refused(write_wording, **how) == ("nothing_changed",)
    write_wording(stands={"who"}, **how)
    clause.refresh_from_db()
    assert (clause.state, clause.why) == (ClauseState.TRANSLATED, "")


def test_draft_that_nobody_spoke_of_stays_one_when_another_clause_is_written():
    wording = desk.wordings()["fr"]
    write_wording(language="fr", texts=texts(wording, who=("Qui", "Deux.")), by=cast.artist())
    states = dict(wording.clauses.filter(paper="form").values_list("key", "state"))
    assert states.pop("who") == ClauseState.TRANSLATED
    assert set(states.values()) == {ClauseState.DRAFTED}


def test_who_changed_the_words_on_the_lines_does_not_freeze_them():
    wording = desk.wordings()["fr"]
    for clause in wording.clauses.all():
        approve(clause=clause, by=desk.reader(), on=cast.TODAY, words=desk.SAID_BACK)
    write_wording(language="fr", texts=texts(wording), labels={"yes": "oui !"}, by=desk.reader())
    wording.refresh_from_db()
    assert refused(freeze, wording=wording, by=desk.reader(), at=desk.AT) == ("same_person",)


def test_language_follows_the_artists_words_as_they_are_when_it_is_written():
    held = desk.wordings()
    write_wording(language="en", texts=texts(held["en"], who=("Who", "We two.")), by=cast.artist())
    write_wording(language="fr", texts=texts(held["fr"], who=("Qui", "Deux.")), by=cast.artist())
    own, french = (
        Clause.objects.get(wording=held[tag], paper="form", key="who") for tag in ("en", "fr")
    )
    assert (own.source_version, french.source_version) == (2, 2)
    assert french.source_words == own.words == "Who\nWe two."


def test_version_frozen_before_clauses_were_said_back_is_followed_by_one_to_read():
    held = desk.frozen("fr")["fr"]
    held.clauses.update(state=ClauseState.TRANSLATED, approved_by=None)
    made = write_wording(language="fr", texts=texts(held), by=cast.artist())
    assert (made.version, made.frozen_at) == (2, None)
    assert not made.clauses.exclude(state=ClauseState.TRANSLATED).exists()


def test_words_of_one_paper_are_its_clauses_and_its_lines_with_those_that_all_share():
    wording = Wording.objects.create(
        language="fr", version=1, labels={"yes": "oui", "spot.yes": "OUI", "spot.where": "Où"}
    )
    for paper, key in (("form", "who"), ("spot", "who")):
        Clause.objects.create(wording=wording, paper=paper, key=key, number=1, text=paper)
    clauses, labels = words_of(wording)
    assert ([one.name for one in clauses], labels) == (["who"], {"yes": "oui"})
    clauses, labels = words_of(wording, PaperKind.SPOT)
    assert [one.name for one in clauses] == ["spot.who"]
    assert labels == {"yes": "OUI", "where": "Où"}
