"""The page of papers: a press gives the PDF once, an unread wording only a proof."""

from uuid import uuid4

import pytest
from django.urls import reverse

from relations.consent.models import Wording
from relations.documents.models import Sheet
from tests import cast
from tests.consent import desk
from tests.consent.test_sheets import wording

pytestmark = pytest.mark.django_db


@pytest.fixture
def address():
    return reverse("consent:papers")


def said(kind: str = "explanation", **more: str) -> dict[str, str]:
    keys = {name: str(wording(tag).pk) for name, tag in (("first", "ar"), ("second", "fr"))}
    return {"token": str(uuid4()), "kind": kind, "serial": "", **keys, **more}


@pytest.mark.parametrize("kind", ["explanation", "take_back", "stop_card"])
def test_press_answers_with_the_paper(client, address, kind):
    cast.signed_in(client, cast.assistant())
    serial = "" if kind == "explanation" else desk.paper().sheet.serial
    answer = client.post(address, said(kind, serial=serial))
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
    assert answer.content.startswith(b"%PDF-")
    printed = Sheet.objects.get(kind="form" if kind == "stop_card" else kind)
    assert printed.serial in answer["Content-Disposition"]


def test_a_press_that_is_sent_twice_prints_once(client, address):
    cast.signed_in(client, cast.artist())
    sent = said()
    client.post(address, sent)
    again = client.post(address, sent)
    assert (again.status_code, again["Location"]) == (302, address)
    assert Sheet.objects.count() == 1


def test_looking_prints_nothing(client, address):
    wording("fr")
    cast.signed_in(client, cast.artist())
    assert client.get(address).status_code == 200
    assert not Sheet.objects.exists()


def test_page_opened_from_a_form_knows_its_languages_and_number(client, address):
    form = desk.paper(first_wording=wording("fr"), second_wording=wording("ar"))
    cast.signed_in(client, cast.artist())
    page = client.get(address, {"serial": form.sheet.serial}).content.decode()
    assert f'value="{form.sheet.serial}"' in page
    for tag in ("fr", "ar"):
        assert f'<option value="{wording(tag).pk}" selected' in page


def test_number_of_a_form_that_is_not_there_is_left_out(client, address):
    wording("fr")
    cast.signed_in(client, cast.artist())
    page = client.get(address, {"serial": "70042-74"})
    assert page.status_code == 200 and b"70042-74" not in page.content


def test_unread_wording_is_refused_and_a_proof_is_offered(client, address):
    held = desk.wordings()
    cast.signed_in(client, cast.artist())
    sent = {"token": str(uuid4()), "kind": "explanation", "serial": ""}
    sent |= {"first": str(held["fr"].pk), "second": str(held["ne"].pk)}
    answer = client.post(address, sent)
    proof = reverse("consent:paper_proof", args=["explanation", "fr", "ne"])
    assert answer.status_code == 422 and proof in answer.content.decode()
    assert client.get(proof).content.startswith(b"%PDF-")
    assert not Sheet.objects.exists()


@pytest.mark.parametrize(
    "names", [("notice", "fr", "ne"), ("explanation", "fr", "xx"), ("explanation", "fr", "fr")]
)
def test_proof_of_what_there_is_not_is_not_found(client, names):
    desk.wordings()
    cast.signed_in(client, cast.artist())
    assert client.get(reverse("consent:paper_proof", args=names)).status_code == 404


def test_one_wording_alone_prints_nothing(client, address):
    Wording.objects.create(language="fr", version=1)
    cast.signed_in(client, cast.artist())
    assert b"Two wordings are needed." in client.get(address).content
