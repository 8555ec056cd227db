"""What is chosen before a paper is printed."""

from uuid import uuid4

import pytest

from relations.consent.sheet_forms import PaperForm, SheetForm
from relations.documents.values import PaperKind
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db


def form(**said: str) -> SheetForm:
    held = desk.wordings()
    sent = {
        "token": str(uuid4()),
        "kind": "explanation",
        "first": str(held["ar"].pk),
        "second": str(held["fr"].pk),
        "serial": "",
        **said,
    }
    return SheetForm(sent, user=cast.artist(), wordings=held.values())


def test_paper_that_was_chosen_is_what_an_action_takes():
    chosen = form()
    assert chosen.is_valid()
    assert (chosen.chosen["kind"], chosen.chosen["serial"]) == (PaperKind.EXPLANATION, None)
    assert chosen.chosen["first"].language == "ar"


def test_slip_holds_the_number_of_the_form_and_a_card_bears_it():
    slip, card = form(kind="take_back", serial="7004274"), form(kind="stop_card", serial="70042-74")
    assert slip.is_valid() and card.is_valid()
    assert slip.chosen["values"] == {"form_serial": "70042-74"} and slip.chosen["serial"] is None
    assert card.chosen["serial"] == "70042-74"


@pytest.mark.parametrize(
    "said",
    [
        {"kind": "stop_card"},
        {"serial": "70042-75"},
        {"serial": "7"},
        {"kind": "stop_card", "serial": "7"},
    ],
)
def test_number_that_is_missing_or_mistyped_is_an_error_beside_it(said):
    wrong = form(**said)
    assert not wrong.is_valid() and set(wrong.errors) == {"serial"}


@pytest.mark.parametrize("kind", ["", "notice", "form"])
def test_only_papers_of_this_page_can_be_chosen(kind):
    wrong = form(kind=kind)
    assert not wrong.is_valid() and "kind" in wrong.errors


def test_paper_about_somebody_asks_for_two_languages_only():
    assert set(PaperForm(user=cast.artist(), wordings=[]).fields) == {"token", "first", "second"}
