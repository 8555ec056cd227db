"""Two languages beside each other, clause by clause, with what changed in either of them."""

import pytest
from django.http import Http404

from relations.consent import approvals, side_by_side, source
from relations.consent.texts import Clause
from relations.consent.wording_forms import WordingForm
from relations.consent.wordings import write_wording
from relations.languages.changes import Kind
from tests import cast
from tests.consent import desk
from tests.consent.test_wordings import texts

pytestmark = pytest.mark.django_db


def pairs(wording, user=None):
    form = WordingForm(user=user or desk.reader(), wording=wording)
    papers = side_by_side.papers(wording, source.own(), form)
    return {pair.clause.name: pair for paper in papers for pair in paper.pairs}


def test_translation_stands_beside_what_the_artist_wrote():
    held = desk.frozen("fr")
    assert side_by_side.beside(desk.reader(), held["ar"]) == held["en"]
    both = side_by_side.shown(desk.reader(), held["ar"], held["en"])
    assert (both["runs"], both["beside_runs"], both["may_read"]) == ("rtl", "ltr", True)
    assert all(pair.clause.name == pair.other.name for pair in both["papers"][0].pairs)
    assert ("yes", "نعم", "yes") in both["lines"]


def test_artists_own_words_stand_beside_one_that_the_reader_knows():
    held = desk.frozen("ar", "ne")
    assert side_by_side.beside(cast.wording_reader(), held["en"]) == held["ar"]
    alone = side_by_side.shown(cast.artist(), held["en"], None)
    assert (alone["beside_runs"], alone["papers"][0].pairs[0].other) == ("ltr", None)


def test_without_words_of_the_artists_own_the_language_of_the_project_stands_beside(settings):
    settings.RELATIONS_SOURCE_LANGUAGE = "sv"
    held = desk.frozen("fr", "ne")
    assert side_by_side.beside(cast.wording_reader(), held["ar"]) == held["fr"]
    assert side_by_side.shown(cast.artist(), held["ar"], held["fr"])["are_lines_behind"] is False


def test_nobody_writes_a_language_they_may_not():
    with pytest.raises(Http404):
        side_by_side.model_for(cast.artist(), "fr")
    held = desk.wordings()
    assert side_by_side.model_for(cast.wording_reader(), "ar") == held["ar"]
    with pytest.raises(Http404):
        side_by_side.model_for(cast.wording_reader(), "fr")


def test_clauses_are_grouped_by_paper_the_form_first():
    wording = desk.wordings()["fr"]
    Clause.objects.create(wording=wording, paper="spot", key="who", number=1, text="Deux.")
    found = side_by_side.papers(wording, None)
    assert (found[0].kind, len(found[0].pairs), found[0].approved) == ("form", 15, 0)
    assert found[-1].pairs[-1].clause.name == "spot.who" or len(found) > 2


def test_what_changed_since_it_was_approved_last_is_shown_word_by_word():
    wording = desk.wordings()["fr"]
    desk.approve(wording.clauses.get(paper="form", key="day"))
    assert pairs(wording)["day"].since == []
    new = "Je signe seulement après avoir tout entendu."
    write_wording(language="fr", texts=texts(wording, day=("Jour", new)), by=cast.artist())
    _heading, runs = pairs(wording)["day"].since
    assert {run.kind for run in runs} == set(Kind)
    assert "entendu." in " ".join(run.words for run in runs if run.kind == Kind.NEW)
    assert pairs(wording)["who"].since == [], "nobody has approved it yet"


def test_clause_that_is_late_shows_what_changed_in_the_words_it_follows():
    held = desk.wordings()
    write_wording(language="en", texts=texts(held["en"], who=("Who", "We two.")), by=cast.artist())
    late = pairs(held["fr"])["who"]
    assert late.stamp == "behind"
    assert any(run.kind == Kind.NEW and "two." in run.words for line in late.moved for run in line)
    assert late.may_read and not late.may_say
    assert pairs(held["fr"])["stop"].moved == []


def test_stamp_says_whether_a_draft_was_sent_back():
    wording = desk.wordings()["fr"]
    clause = wording.clauses.get(paper="form", key="who")
    assert pairs(wording)["who"].stamp == "drafted"
    approvals.send_back(clause=clause, by=desk.reader(), on=cast.TODAY, why="Too long.")
    assert pairs(wording)["who"].stamp == "sent_back"
    assert not pairs(wording)["who"].may_say


def test_only_the_second_person_reads_and_an_approved_clause_is_not_said_back_again():
    wording = desk.wordings()["fr"]
    assert not any(pair.may_read for pair in pairs(wording, cast.artist()).values())
    desk.approve(wording.clauses.get(paper="form", key="who"))
    assert (pairs(wording)["who"].may_read, pairs(wording)["who"].may_say) == (True, False)
    assert pairs(wording)["stop"].may_say


def test_each_clause_is_measured_in_its_own_language():
    held = desk.wordings()
    levels = {tag: pairs(held[tag])["plain"].level.by for tag in ("en", "fr", "ne")}
    assert levels == {"en": "grade", "fr": "lix", "ne": "sentence"}


def test_page_says_where_the_lines_are_late():
    held = desk.frozen("en", "fr")
    write_wording(language="en", texts=texts(held["en"]), labels={"yes": "yes!"}, by=cast.artist())
    assert side_by_side.shown(desk.reader(), source.latest("fr"), None)["are_lines_behind"]
