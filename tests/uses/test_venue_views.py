"""The pages of a venue: nothing but its sheet, and one answer for all that is not there."""

import logging
import re

import pytest
from django.test import Client

from relations.pictures.models import PictureHold
from relations.privacy.models import AccessEntry
from relations.uses import clearing, venue
from relations.uses.models import ClearanceSheet, ClearedPicture
from tests import cast
from tests.house.asking import CHANCE
from tests.rows import make
from tests.uses import plans, sheets

pytestmark = pytest.mark.django_db
SHEET = "/uses/sheet/"


@pytest.fixture
def link():
    sheet = sheets.sheet(sheets.few(), "K01", "K03", "K12")
    ends = plans.TODAY
    return venue.make_link(sheet=sheet, ends_on=ends, by=plans.artist(), at=cast.moment())


def door(link):
    return venue.address_of(link)


def come_in(client, link):
    return client.post(door(link), {"token": str(make_token()), "phrase": link.phrase})


def make_token():
    return "00000000-0000-4000-8000-000000000001"


def text(response):
    return " ".join(response.content.decode().split())


def plain(page):
    """A page without the marks that keep a code in one direction."""
    return re.sub(r"</?bdi[^>]*>", "", page)


def test_a_venue_reads_its_sheet_and_nothing_else_of_the_register(client, link):
    assert come_in(client, link).headers["Location"] == SHEET
    page = text(client.get(SHEET))
    for words in ("3 pictures on this sheet", "Valid to 18 April 2027", "By the dry dock, K12"):
        assert words in page
    assert "Do not show it before the artist’s word stands here." in page
    for hidden in ("K07", "K30", "Wished that", "TELL-FIRST", "Danuta", "Marcel", "06 39", 'bar"'):
        assert hidden not in page
    assert "<title>Sheet 1 – Portraits</title>" in page
    for address in ("/", "/people/", "/uses/sheets/1/", "/pictures/K01/light/", "/uses/plan/E1/"):
        assert client.get(address).status_code in {302, 404}


def test_whoever_was_signed_in_is_so_no_more(client, link):
    artist = cast.signed_in(client, plans.artist())
    assert "signs you out" in text(artist.get(door(link)))
    come_in(artist, link)
    assert artist.get("/").headers["Location"].startswith("/in/")
    assert artist.get(SHEET).status_code == 200


def test_a_venue_confirms_once(client, link):
    come_in(client, link)
    assert "We have read this and will keep to it" in text(client.get(SHEET))
    for _ in range(2):
        assert client.post("/uses/sheet/confirm/").headers["Location"] == SHEET
    assert "You confirmed on 23 November 2026 that you keep to it." in text(client.get(SHEET))
    assert AccessEntry.objects.filter(verb="confirmed", by=None).count() == 1


def test_an_open_sheet_says_out_of_date_on_the_next_load_and_is_neither_printed_nor_confirmed(
    client, link
):
    come_in(client, link)
    assert client.get("/uses/sheet/pdf/").content.startswith(b"%PDF")
    make(PictureHold, picture=plans.pictures("K12")[0])
    page = text(client.get(SHEET))
    assert "This sheet is out of date" in page
    assert "K12" in page
    assert "By the dry dock" not in page
    assert "will keep to it" not in page
    assert client.get("/uses/sheet/pdf/").headers["Location"] == SHEET
    client.post("/uses/sheet/confirm/")
    assert ClearanceSheet.objects.get().confirmed_at is None


def test_a_venue_says_once_that_what_was_stopped_is_down_and_the_artist_reads_it(client, link):
    come_in(client, link)
    client.post("/uses/sheet/down/")
    assert not ClearedPicture.objects.exclude(down_at=None).exists()
    make(PictureHold, picture=plans.pictures("K12")[0])
    assert "They are down, and shown no more" in text(client.get(SHEET))
    artist = cast.signed_in(Client(), plans.artist())
    assert "has not said that these are down" in text(artist.get("/uses/sheets/1/"))
    for _ in range(2):
        assert client.post("/uses/sheet/down/").headers["Location"] == SHEET
    said = text(client.get(SHEET))
    assert "K12: down, as the venue said on" in plain(said)
    assert "shown no more</button>" not in said
    page = plain(text(artist.get("/uses/sheets/1/")))
    assert "K12: down, as the venue said on" in page
    assert "has not said" not in page
    (row,) = ClearedPicture.objects.exclude(down_at=None)
    assert row.weighing.asked.picture.code == "K12"
    assert AccessEntry.objects.filter(verb="took_down", by=None).count() == 1


def test_what_a_newer_sheet_left_out_is_said_to_be_down(client, link):
    come_in(client, link)
    sheets.sheet(ClearanceSheet.objects.get().plan, "K01", "K03")
    client.post("/uses/sheet/down/")
    (row,) = ClearedPicture.objects.exclude(down_at=None)
    assert row.sheet.number == 1
    assert row.weighing.asked.picture.code == "K12"


def test_a_replaced_sheet_says_so_and_lists_what_changed(client, link):
    come_in(client, link)
    plan = ClearanceSheet.objects.get().plan
    sheets.caption("K03", "On the quay")
    sheets.sheet(plan, "K01", "K03", "K30")
    page = text(client.get(SHEET))
    assert "Sheet 2 of 23 November 2026 took its place" in page
    for words in ("left out. Take it down", "another caption.", "new."):
        assert words in page
    assert "On the quay" not in page


def test_the_page_and_its_headers_are_in_the_language_of_the_sheet(client, link):
    ClearanceSheet.objects.update(language="fr")
    come_in(client, link)
    response = client.get(SHEET, headers={"accept-language": "en"})
    assert '<html lang="fr" dir="ltr">' in text(response)
    assert response.headers["Content-Language"] == "fr"
    assert "Valable jusqu’au 18 avril 2027" in text(response)


def asked(address, phrase):
    """What a stranger who has never been here is answered, without tokens."""
    client = Client()
    answers = [
        client.get(address),
        client.post(address, {"token": make_token(), "phrase": phrase}),
    ]
    plain = (CHANCE.sub(b"", one.content).replace(phrase.encode(), b"") for one in answers)
    return [(one.status_code, said) for one, said in zip(answers, plain, strict=True)]


def test_absent_ended_locked_held_off_and_wrong_are_one_answer(link):
    nowhere = asked(door(venue.Link("nowhere", "")), link.phrase)
    assert asked("/uses/venue/", link.phrase) == nowhere
    assert [status for status, _ in nowhere] == [200, 422]
    wrong = [asked(door(link), "WRONG") for _ in range(5)]
    held_off = asked(door(link), link.phrase)
    ClearanceSheet.objects.update(wrong_phrases=venue.MOST_WRONG)
    locked = asked(door(link), link.phrase)
    clearing.end_sheet(sheet=ClearanceSheet.objects.get(), by=plans.artist(), at=cast.moment())
    ended = asked(door(link), link.phrase)
    assert all(answers == nowhere for answers in (*wrong, held_off, locked, ended))


def test_nothing_of_link_or_phrase_is_logged(client, link, caplog):
    with caplog.at_level(logging.DEBUG):
        client.post(door(link), {"token": make_token(), "phrase": "WRONG"})
        come_in(client, link)
        client.get(SHEET)
        client.get("/uses/sheet/nowhere/")
        client.delete(door(link))
        strict = Client(enforce_csrf_checks=True)
        assert strict.post(door(link), {"phrase": link.phrase}).status_code == 403
    said = caplog.text + str(list(AccessEntry.objects.values_list("verb", "kind", "key")))
    assert "Unprocessable" in said
    assert link.token not in said
    assert link.phrase.replace(" ", "") not in said


def test_an_empty_phrase_is_asked_for_again(client, link):
    page = client.post(door(link), {"token": make_token(), "phrase": ""})
    assert (page.status_code, 'aria-invalid="true"' in text(page)) == (422, True)
