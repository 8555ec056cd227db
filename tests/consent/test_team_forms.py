"""What is chosen before a sheet for the team is printed."""

from uuid import uuid4

import pytest

from relations.consent.team_forms import SittingSheetForm, TeamSheetForm
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db


def form(kind=TeamSheetForm, user=None, theirs=(), said=None):
    held = list(desk.wordings().values())
    user = user or cast.artist()
    return kind(said, user=user, wordings=held, theirs=theirs)


def chosen(made) -> list[str | None]:
    """The languages that the two fields begin with."""
    keys = [made.fields[field].initial for field in ("first", "second")]
    return [made.wordings[key].language if key else None for key in keys]


@pytest.mark.parametrize(
    "theirs, begins",
    [
        (["bm", "ar", "fr"], ["ar", "en"]),  # Bambara has no wording
        (["fr"], ["fr", "en"]),
        (["en"], ["en", None]),
        ([], [None, "en"]),
    ],
)
def test_sheet_begins_with_their_language_beside_the_readers(theirs, begins):
    assert chosen(form(theirs=theirs)) == begins


def test_reader_of_another_language_has_it_beside_theirs():
    user = cast.assistant()
    user.language = "fr"
    assert chosen(form(user=user, theirs=["ne"])) == ["ne", "fr"]


def test_page_asks_for_no_code_where_the_page_knows_whose_sheet_it_is():
    assert list(form().fields) == ["first", "second", "token"]


def test_without_wordings_nothing_is_chosen():
    made = TeamSheetForm(user=cast.artist(), wordings=[], theirs=["fr"])
    assert [made.fields[field].initial for field in ("first", "second")] == [None, None]


def test_who_else_sits_is_given_by_code_and_must_be_in_sight():
    held = desk.wordings()
    pair = {"first": held["fr"].pk, "second": held["en"].pk, "token": str(uuid4())}
    danuta = cast.danuta()
    good = form(SittingSheetForm, said={**pair, "also": f" {danuta.code} "})
    assert good.is_valid() and good.cleaned_data["also"] == [danuta]
    alone = form(SittingSheetForm, said=pair)
    assert alone.is_valid() and alone.cleaned_data["also"] == []
    unseen = form(SittingSheetForm, user=cast.assistant(), said={**pair, "also": danuta.code})
    unknown = form(SittingSheetForm, said={**pair, "also": "99"})
    assert unseen.errors["also"] == unknown.errors["also"] == ["Look at these codes again."]
