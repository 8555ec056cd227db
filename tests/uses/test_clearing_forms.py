"""What may be typed on the pages of clearance sheets."""

from uuid import UUID

import pytest

from relations.uses.clearances import Instruction, Line
from relations.uses.clearing_forms import PhraseForm, PressForm, SheetForm, spoken
from relations.uses.clearing_pages import Candidate

TOKEN = "00000000-0000-4000-8000-000000000001"
FOUND = [
    Candidate(Line("K01", "")),
    Candidate(Line("K12", "", (Instruction.WRITTEN,)), ("beside nobody",)),
]


def form(**said):
    sent = {"token": TOKEN, "language": "en", **said}
    return SheetForm(sent, candidates=FOUND)


def test_all_that_is_cleared_is_ticked_to_begin_with():
    assert SheetForm(candidates=FOUND)["pictures"].value() == ["K01", "K12"]


def test_words_for_a_condition_are_asked_only_of_a_picture_that_is_ticked():
    asked = form(pictures=["K01", "K12"])
    assert list(asked.errors) == ["written-K12"]
    assert form(pictures=["K01"]).is_valid()
    told = form(pictures=["K12"], **{"written-K12": "On a wall of its own."})
    assert told.is_valid()
    assert told.written == {"K12": "On a wall of its own."}


@pytest.mark.parametrize(
    "said", [{"language": "xx"}, {"written-K12": "x" * 141}, {"pictures": ["K07"]}]
)
def test_what_cannot_be_is_refused(said):
    assert not form(**{"pictures": ["K01"], **said}).is_valid()


def test_a_sheet_is_made_in_a_language_that_has_words():
    assert {"en", "fr"} <= dict(spoken()).keys() <= {"en", "fr", "ar", "ne"}


def test_presses_of_one_page_have_tokens_of_their_own():
    made = [PressForm({"token": TOKEN}, path=path) for path in ("/a/", "/b/", "/a/")]
    assert all(one.is_valid() for one in made)
    first, other, same = (one.token for one in made)
    assert first == same != other
    assert isinstance(first, UUID)


def test_a_phrase_is_no_longer_than_anybody_would_type():
    assert not PhraseForm({"token": TOKEN, "phrase": "A" * 61}).is_valid()
