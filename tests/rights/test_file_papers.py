"""The file on paper: two languages side by side, or large lines to be read aloud."""

import subprocess
from datetime import date

import pytest

from relations.people.models import Participant, PhoneLine
from relations.privacy.refused import Refused
from relations.rights import file_papers
from relations.rights.file_of import Item, file_of
from relations.rights.file_papers import Voice, bilingual, has_words, in_words, read_aloud
from relations.rights.file_table import HOLDS, PARTS
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
    assert "Téléphone: 06 39 98 00 07" in said and "Telephone: 06 39 98 00 07" in said
    assert "Ask for une autre personne" in said and "Ask for somebody else" in said
    assert "Martin" not in said


def test_lines_to_be_read_aloud_are_in_one_language_and_numbered():
    said = words_of(read_aloud(file_of(danuta()), wording("fr"), wording("en"), DAY))
    assert "Lisez chaque ligne à voix haute" in said and "What we hold" not in said
    assert {"1", "2", "3"} <= set(said.split())


def test_a_wording_that_lacks_the_words_is_said_so():
    french, english = wording("fr"), wording("en")
    french.labels = {key: one for key, one in french.labels.items() if "file_" not in key}
    assert not has_words(["fr"], [french, english]) and has_words(["en"], [french, english])
    assert not has_words([], [french]) and not has_words(["ne"], [english])
    for make_paper in (bilingual, read_aloud):
        with pytest.raises(Refused, match="no_words"):
            make_paper(file_of(cast.danuta()), french, english, DAY)


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
