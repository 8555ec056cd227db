"""What comes with the site is taken in as a draft, once, for every paper and alike."""

import json

import pytest

from relations.consent.shipped import load_wordings
from relations.consent.source import latest
from relations.consent.texts import Clause, Wording
from relations.consent.values import ClauseState
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db
SPOT = {
    "clauses": [{"key": "who", "number": 1, "heading": "Us", "text": "We are two."}],
    "labels": {"where": "Where"},
}


@pytest.fixture
def file(tmp_path):
    """A file of wordings, written anew with whatever a test changes in its languages."""
    path = tmp_path / "wordings.json"

    def write(change=lambda languages: None):
        held = json.loads(desk.WORDINGS.read_text(encoding="utf-8"))
        for words in held["languages"].values():
            words.pop("papers", None)
        change(held["languages"])
        path.write_text(json.dumps(held), encoding="utf-8")
        return path

    return write


def with_spot(languages):
    for words in languages.values():
        words["papers"] = {"spot": SPOT}


def test_drafts_come_in_unread_in_seven_languages_and_only_once():
    held = desk.wordings()
    assert set(held) == set(desk.LANGUAGES)
    assert not any(wording.frozen_at for wording in held.values())
    assert set(Clause.objects.values_list("state", "approved_by", "read_back")) == {
        (ClauseState.DRAFTED, None, "")
    }
    counts = {wording.clauses.filter(paper="form").count() for wording in held.values()}
    assert counts == {15}
    assert load_wordings(path=desk.WORDINGS, by=cast.artist()) == []


def test_translation_keeps_the_words_it_was_made_of():
    held = desk.wordings()
    own, french = (held[tag].clauses.get(paper="form", key="who") for tag in ("en", "fr"))
    assert (french.source_words, own.source_words) == (own.words, "")


def test_further_papers_come_in_beside_the_form_with_the_words_on_their_lines(file):
    load_wordings(path=file(with_spot), by=cast.artist())
    wording = latest("fr")
    assert wording.clauses.get(paper="spot").name == "spot.who"
    assert (wording.labels["spot.where"], wording.labels["yes"]) == ("Where", "oui")


def test_paper_that_came_later_is_added_to_what_nobody_can_print_yet(file):
    load_wordings(path=file(), by=cast.artist())
    Clause.objects.filter(key="who").update(text="Put right by a reader.")
    taken = load_wordings(path=file(with_spot), by=cast.artist())
    assert {(one.language, one.version) for one in taken} == {(t, 1) for t in desk.LANGUAGES}
    wording = latest("fr")
    assert wording.clauses.get(paper="form", key="who").text == "Put right by a reader."
    assert (wording.clauses.count(), wording.labels["spot.where"]) == (16, "Where")
    assert load_wordings(path=file(with_spot), by=cast.artist()) == []


def test_paper_that_came_later_opens_the_version_after_a_frozen_one(file):
    load_wordings(path=file(), by=cast.artist())
    old = latest("fr")
    for clause in old.clauses.all():
        desk.approve(clause)
    desk.freeze(old)
    load_wordings(path=file(with_spot), by=cast.artist())
    new = latest("fr")
    assert (new.version, new.frozen_at, old.clauses.count()) == (2, None, 15)
    waiting = new.clauses.exclude(state=ClauseState.APPROVED)
    assert [clause.name for clause in waiting] == ["spot.who"]


def unlike(change):
    def changed(languages):
        with_spot(languages)
        languages["ar"] = json.loads(json.dumps(languages["ar"]))
        change(languages["ar"])

    return changed


@pytest.mark.parametrize(
    "change",
    [
        lambda words: words["clauses"].pop(),
        lambda words: words["labels"].pop("yes"),
        lambda words: words["labels"].update(page_of="وجه {page}"),
        lambda words: words.pop("papers"),
        lambda words: words["papers"]["spot"]["clauses"].clear(),
        lambda words: words["papers"]["spot"]["labels"].clear(),
        lambda words: words["papers"]["spot"].pop("labels"),
    ],
)
def test_languages_without_the_same_words_are_not_taken_in(file, change):
    with pytest.raises(ValueError, match=r": ar$"):
        load_wordings(path=file(unlike(change)), by=cast.artist())
    assert not Wording.objects.exists()


@pytest.mark.parametrize("kind", ["poster", "form"])
def test_paper_that_we_do_not_print_so_is_not_taken_in(file, kind):
    def change(languages):
        for words in languages.values():
            words["papers"] = {kind: SPOT}

    with pytest.raises(ValueError, match=r"poster|beside the papers"):
        load_wordings(path=file(change), by=cast.artist())
