"""The file on paper: two languages side by side, or large lines to be read aloud."""

import subprocess
from datetime import date

import pytest

from relations.consent.models import Wording
from relations.people.models import Participant, PhoneLine
from relations.prints.models import PromiseKind
from relations.privacy.refused import Refused
from relations.rights import file_papers
from relations.rights.file_of import Item, file_of
from relations.rights.file_papers import Voice, bilingual, has_words, in_words, read_aloud
from relations.rights.file_table import HOLDS, PARTS
from relations.rights.models import RequestKind
from tests import cast
from tests.consent.test_sheets import wording
from tests.rows import DAY, make

pytestmark = [pytest.mark.django_db, pytest.mark.needs("pdftotext")]


def words_of(pdf: bytes) -> str:
    ran = subprocess.run(["pdftotext", "-", "-"], input=pdf, capture_output=True, check=True)
    return " ".join(ran.stdout.decode().split())


def danuta():
    person = cast.danuta()
    make(PhoneLine, person=person, as_typed="06 39 98 00 07", number="+33639980007")
    person.instruction = "Ask for Loïc Martin"
    person.save()
    make(Participant, call_name="Loïc Martin")
    return person


def test_both_languages_stand_side_by_side_without_anybody_else():
    said = words_of(bilingual(file_of(danuta()), wording("fr"), wording("en"), DAY))
    assert "Ce que nous gardons sur vous" in said and "What we hold about you" in said
    assert "Téléphone : 06 39 98 00 07" in said and "Telephone: 06 39 98 00 07" in said
    assert "Ask for une autre personne" in said and "Ask for somebody else" in said
    assert "Martin" not in said


def test_lines_to_be_read_aloud_are_in_one_language_and_numbered():
    said = words_of(read_aloud(file_of(danuta()), wording("fr"), DAY))
    assert "Lisez chaque ligne à voix haute" in said and "What we hold" not in said
    assert {"1", "2", "3"} <= set(said.split())


def test_a_wording_that_lacks_the_words_is_said_so():
    french, english = wording("fr"), wording("en")
    french.labels = {key: one for key, one in french.labels.items() if "file_" not in key}
    assert not has_words(["fr"], [french, english]) and has_words(["en"], [french, english])
    assert not has_words([], [french]) and not has_words(["ne"], [english])
    with pytest.raises(Refused, match="no_words"):
        bilingual(file_of(cast.danuta()), french, english, DAY)
    with pytest.raises(Refused, match="no_words"):
        read_aloud(file_of(cast.danuta()), french, DAY)


def test_a_wording_from_before_a_line_was_added_lacks_words_too():
    french = wording("fr")
    french.labels = {key: one for key, one in french.labels.items() if "promised" not in key}
    assert not has_words(["fr"], [french])
    with pytest.raises(Refused, match="no_words"):
        read_aloud(file_of(cast.danuta()), french, DAY)


def test_a_wording_that_nobody_has_read_is_not_read_aloud_either():
    french = wording("fr")
    french.frozen_at = None
    with pytest.raises(Refused, match="first_unread"):
        read_aloud(file_of(cast.danuta()), french, DAY)


@pytest.mark.parametrize("lang", ["fr", "ar"])
def test_lists_and_colons_are_those_of_the_language(lang):
    voice = file_papers.voices(wording(lang))[0]
    said = in_words(Item("uses", "yes_to", ["book", "web"], is_own=False), ["book", "web"], voice)
    comma, colon = {"fr": (", ", "\u00a0:"), "ar": ("، ", ":")}[lang]
    assert len(said.split(comma)) == 2
    assert file_papers.Said(voice, "", "").colon == colon


def test_every_promise_and_every_request_has_words_in_every_language():
    wording("fr")
    for one in Wording.objects.all():
        labels = file_papers.voices(one)[0].labels
        assert {f"file_promised_{kind}" for kind in PromiseKind} <= set(labels)
        assert {f"file_asked_{kind}" for kind in RequestKind} <= set(labels)


def test_every_word_of_the_table_is_in_every_wording():
    words = {one for held in HOLDS.values() for one in held.fields.values() if one}
    labels = file_papers.voices(wording("fr"))[0].labels
    assert {*(f"file_{one}" for one in words), *PARTS} <= set(labels)


@pytest.mark.parametrize(
    ("words", "value", "said"),
    [
        ("reads", False, "no"),
        ("heard", date(2026, 11, 23), "23 November 2026"),
        ("ring", cast.moment(), "23 November 2026"),
        ("level", "grave", "as careful as we can be"),
        ("level", "", ""),
        ("speaks", "ar pt-BR", "Arabic, Portuguese"),
        ("hours", [["10:00", "12:00"]], "10:00–12:00"),
        ("hours", "after dark", "after dark"),
        ("hours", None, ""),
        ("born", "1958-04-27", "27 April 1958"),
        ("born", "1958", "1958"),
        ("born", "", ""),
        ("promised", "book_copy", "a copy of the book"),
        ("asked_for", "erase", "to be erased"),
        ("yes_to", ["book", "web"], "Book, Web site"),
        ("back_what", "all", "everything"),
        ("back_what", "book", "Book"),
        ("back_what", "picture", ""),
        ("note", None, ""),
    ],
)
def test_values_are_said_in_words(words, value, said):
    voice = file_papers.voices(wording("en"))[0]
    assert isinstance(voice, Voice) and voice.direction == "ltr"
    told = in_words(Item("field", words, value, is_own=False), value, voice)
    # A day keeps its direction to itself.
    assert told.strip("\u2066\u2069") == said
