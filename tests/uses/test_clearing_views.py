"""The artist's pages of clearance sheets: made, seen, replaced, linked, printed, ended."""

import re
from uuid import uuid4

import pytest

from relations.pictures.models import PictureHold
from relations.privacy.models import AccessEntry
from relations.uses.models import ClearanceSheet
from tests import cast
from tests.house.asking import without_chance
from tests.rows import make
from tests.uses import plans, sheets

pytestmark = pytest.mark.django_db


@pytest.fixture
def plan():
    return sheets.few()


@pytest.fixture
def artist(client, plan):
    return cast.signed_in(client, plans.artist())


def post(client, url, **said):
    return client.post(url, {"token": str(uuid4()), **said})


def text(response):
    return " ".join(response.content.decode().split())


def hold(code="K01"):
    make(PictureHold, picture=plans.pictures(code)[0])


def test_a_sheet_is_made_of_what_is_ticked_and_replaced_by_the_next(artist):
    page = text(artist.get("/uses/plan/E1/sheet/"))
    assert page.count("checked") == 4
    assert "K07" not in without_chance(page)
    assert "By the dry dock, K12" in page
    made = post(artist, "/uses/plan/E1/sheet/", pictures=["K01", "K12"], language="fr")
    assert made.headers["Location"] == "/uses/sheets/1/"
    assert ClearanceSheet.objects.get().language == "fr"
    assert "It takes the place of sheet 1" in text(artist.get("/uses/plan/E1/sheet/"))
    post(artist, "/uses/plan/E1/sheet/", pictures=["K01"], language="en")
    page = text(artist.get("/uses/sheets/1/"))
    assert "Sheet 2 of 23 November 2026 took its place" in page
    assert "left out. Take it down, and show it no more." in page
    listed = text(artist.get("/uses/sheets/"))
    assert "Replaced" in listed
    assert listed.count("Not confirmed.") == 2


def test_a_sheet_asked_for_with_nothing_cleared_is_refused_in_words(artist):
    for code in sheets.CLEARED:
        hold(code)
    assert "Nothing is cleared for this use yet." in text(artist.get("/uses/plan/E1/sheet/"))
    asked = post(artist, "/uses/plan/E1/sheet/", language="en")
    assert asked.status_code == 422
    assert "Nothing is cleared for this use, so there is nothing to put on a sheet." in text(asked)
    assert not ClearanceSheet.objects.exists()


def test_no_picture_ticked_and_one_that_fell_meanwhile_are_refused(artist):
    none = post(artist, "/uses/plan/E1/sheet/", language="en")
    assert none.status_code == 422
    assert "Choose at least one picture." in text(none)
    hold()
    fell = post(artist, "/uses/plan/E1/sheet/", pictures=["K01"], language="en")
    assert fell.status_code == 422
    assert "One of these is not cleared any more." in text(fell)


def test_the_page_of_a_sheet_says_open_then_out_of_date_and_what_comes_down(artist, plan):
    sheets.sheet(plan)
    page = text(artist.get("/uses/sheets/1/"))
    assert "Open, and valid to 6 January 2027" in page
    assert page.count("It is done: it may be shown") == 1
    hold()
    page = text(artist.get("/uses/sheets/1/"))
    assert "This sheet is out of date" in page
    assert re.search(r"show no more:</b> <span[^>]*><bdi[^>]*>K01</bdi>", page)
    assert "Out of date" in text(artist.get("/uses/sheets/"))


def test_link_and_phrase_are_shown_once(artist, plan):
    sheets.sheet(plan)
    said = {"token": str(uuid4()), "ends_on": "2026-12-31"}
    page = text(artist.post("/uses/sheets/1/link/", said))
    address, phrase = re.findall(r'class="words">(http[^<]+)|class="nw">([0-9A-Z ]{14})<', page)
    row = ClearanceSheet.objects.get()
    assert address[0].startswith("http://testserver/uses/venue/?link=")
    assert row.link_digest not in page
    again = artist.post("/uses/sheets/1/link/", said)
    assert again.headers["Location"] == "/uses/sheets/1/"
    seen = text(artist.get("/uses/sheets/1/"))
    assert "There is a link until 31 December 2026." in seen
    assert address[0] not in seen
    assert phrase[1] not in seen


def test_a_link_that_outlives_its_sheet_is_refused_beside_its_field(artist, plan):
    sheets.sheet(plan)
    page = post(artist, "/uses/sheets/1/link/", ends_on="2027-01-07")
    assert page.status_code == 422
    assert 'id="id_ends_on_error"' in text(page)
    assert text(page).count("errsum") == 1


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"wrong_phrases": 20}, "the link is locked"),
        ({"link_ends_on": "2026-11-22"}, "The link ended after 22 November 2026."),
    ],
)
def test_the_page_says_that_a_link_is_locked_or_over(artist, plan, changed, says):
    sheets.sheet(plan)
    post(artist, "/uses/sheets/1/link/", ends_on="2026-12-31")
    ClearanceSheet.objects.update(**changed)
    assert says in text(artist.get("/uses/sheets/1/"))


def test_word_and_end_are_one_press_each(artist, plan):
    sheets.sheet(plan)
    assert post(artist, "/uses/sheets/1/word/K03/").status_code == 302
    assert "The artist gave the word on 23 November 2026." in text(artist.get("/uses/sheets/1/"))
    refused = post(artist, "/uses/sheets/1/word/K30/")
    assert (refused.status_code, "A word is not enough here" in text(refused)) == (422, True)
    assert post(artist, "/uses/sheets/1/end/").status_code == 302
    assert "This sheet was ended on 23 November 2026" in text(artist.get("/uses/sheets/1/"))


def test_the_paper_is_handed_out_only_while_the_sheet_is_open(artist, plan):
    sheet = sheets.sheet(plan)
    paper = artist.get("/uses/sheets/1/pdf/")
    assert paper.content.startswith(b"%PDF")
    assert 'filename="sheet-1.pdf"' in paper.headers["Content-Disposition"]
    assert AccessEntry.objects.filter(verb="printed", key=sheet.pk).count() == 1
    hold()
    assert artist.get("/uses/sheets/1/pdf/").headers["Location"] == "/uses/sheets/1/"


def test_a_sheet_that_is_over_says_so(artist, plan):
    sheets.sheet(plan)
    ClearanceSheet.objects.update(valid_until="2026-11-22")
    assert "This sheet was valid to 22 November 2026" in text(artist.get("/uses/sheets/1/"))
    assert "Over" in text(artist.get("/uses/sheets/"))
