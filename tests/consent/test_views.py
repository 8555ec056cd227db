"""Pages of wordings and of papers that come and go, through the client as each role sees them."""

from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from relations.consent.models import Form
from relations.consent.states import State as FormState
from relations.documents.models import Scan
from tests import cast
from tests.consent import desk
from tests.consent.test_reading_forms import boxes

pytestmark = pytest.mark.django_db
PAGES = {
    "list": (),
    "print": (),
    "file": (),
    "from_before": (),
    "proof": ("fr", "ar"),
}
HANDS, ALL = {"ines", "loic"}, {"ines", "loic", "samira", "aude", "yara"}
OPEN_TO = {
    "list": HANDS,
    "print": HANDS,
    "file": HANDS,
    "from_before": {"ines"},
    "proof": ALL,
}


def at(name):
    return reverse(f"consent:{name}", args=PAGES[name])


def post(client, address, **said):
    return client.post(address, {"token": str(uuid4()), **said})


@pytest.mark.parametrize("name", PAGES)
def test_page_is_open_to_its_roles_and_to_nobody_else(client, name, monkeypatch):
    monkeypatch.setattr("relations.consent.printing.paper.pdf", lambda paper: b"%PDF-")
    desk.frozen("fr")
    assert client.get(at(name)).status_code == 302
    for user in [*cast.everyone(), desk.reader()]:
        answer = cast.signed_in(client, user).get(at(name))
        assert answer.status_code == (200 if user.username in OPEN_TO[name] else 404)


@pytest.mark.parametrize("name", ["list", "proof"])
def test_page_that_only_shows_takes_no_post(client, name):
    cast.signed_in(client, cast.artist())
    assert client.post(at(name)).status_code == 405


@pytest.mark.parametrize("name", ["print", "file", "from_before"])
def test_empty_post_is_answered_with_the_form_and_what_is_wrong(client, name):
    desk.wordings()
    cast.signed_in(client, cast.artist())
    answer = client.post(at(name), {"press": "1"})
    assert answer.status_code == 422
    assert b"Look again" in answer.content


def test_list_opens_where_a_hand_is_needed_first(client):
    desk.paper(70_001, cast.bruno())
    cast.signed_in(client, cast.artist())
    assert desk.serial(70_001) in client.get(at("list")).content.decode()
    desk.filed(70_002, cast.danuta())
    page = client.get(at("list")).content.decode()
    assert desk.serial(70_002) in page and desk.serial(70_001) not in page
    assert "No form here." in client.get(at("list") + "?part=aside").content.decode()
    assert desk.serial(70_001) in client.get(at("list") + "?part=way").content.decode()


def test_form_is_printed_once_however_often_it_is_sent(client):
    held = desk.frozen("fr", "ar")
    cast.danuta()
    cast.signed_in(client, cast.artist())
    said = {"token": str(uuid4()), "first": held["ar"].pk, "second": held["fr"].pk, "code": "12"}
    answers = [client.post(at("print"), said) for _time in range(2)]
    made = Form.objects.get()
    address = reverse("consent:detail", args=[made.sheet.serial])
    assert [answer["Location"] for answer in answers] == [address, address]
    assert made.person == cast.danuta()
    pdf = client.get(reverse("consent:pdf", args=[made.sheet.serial]))
    assert pdf["Content-Type"] == "application/pdf"
    assert pdf.content.startswith(b"%PDF-")


def test_printing_in_an_unread_language_is_refused_and_a_proof_is_offered(client):
    held = desk.frozen("fr")
    cast.signed_in(client, cast.artist())
    answer = post(client, at("print"), first=held["ar"].pk, second=held["fr"].pk)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "No second person has read" in page
    assert reverse("consent:proof", args=["ar", "fr"]) in page
    assert not Form.objects.exists()


def test_proof_of_the_same_or_an_unknown_language_is_absent(client):
    desk.wordings()
    cast.signed_in(client, cast.artist())
    for pair in (("fr", "fr"), ("fr", "it")):
        assert client.get(reverse("consent:proof", args=pair)).status_code == 404


def upload(content=None):
    return SimpleUploadedFile("IMG_2041.png", content or desk.scan())


def test_scan_is_filed_by_typed_serial(client):
    paper = desk.paper(person=cast.danuta())
    cast.signed_in(client, cast.assistant())
    answer = post(client, at("file"), serial="7004274", scan=upload())
    assert answer["Location"] == reverse("consent:detail", args=[paper.sheet.serial])
    paper.refresh_from_db()
    assert paper.state == FormState.SCANNED


def test_same_post_twice_files_one_scan(client):
    desk.paper(person=cast.danuta())
    cast.signed_in(client, cast.assistant())
    token = str(uuid4())
    for _time in range(2):
        answer = client.post(at("file"), {"token": token, "serial": "70042-74", "scan": upload()})
        assert answer.status_code == 302
    assert Scan.objects.count() == 1


@pytest.mark.parametrize(
    ("serial", "words"),
    [
        ("70042-75", "mistyped"),
        ("70043-71", "No paper of ours has this number"),
        ("7004", "five figures"),
    ],
)
def test_wrong_serial_is_said_to_be_wrong_in_its_own_way(client, serial, words):
    desk.paper(person=cast.danuta())
    cast.signed_in(client, cast.assistant())
    answer = post(client, at("file"), serial=serial, scan=upload())
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert f'value="{serial}"' in answer.content.decode()


def test_file_that_is_no_scan_keeps_what_was_typed(client):
    desk.paper(person=cast.danuta())
    cast.signed_in(client, cast.assistant())
    answer = post(client, at("file"), serial="70042-74", scan=upload(b"just words"))
    assert answer.status_code == 422
    assert "This is no image and no PDF" in answer.content.decode()
    assert 'value="70042-74"' in answer.content.decode()


def test_one_form_under_two_people_is_refused(client):
    desk.paper(person=cast.danuta())
    cast.bruno()
    cast.signed_in(client, cast.artist())
    answer = post(client, at("file"), serial="70042-74", code="19", scan=upload())
    assert answer.status_code == 422
    assert "never filed under two people" in answer.content.decode()


def test_old_paper_comes_in_with_its_scan_and_stands(client):
    desk.sitting("12/T2", cast.danuta())
    cast.signed_in(client, cast.artist())
    said = boxes(
        serial="30014-72",
        code="12",
        language="es",
        sitting_codes="12/T2",
        wording_was_read="on",
        use_book="yes",
        given_on="2024-11-12",
        scan=upload(),
    )
    assert client.post(at("from_before"), said).status_code == 302
    form = Form.objects.get()
    assert (form.state, form.uses, form.is_from_before) == (FormState.STANDING, ["book"], True)


def test_old_paper_may_come_in_without_a_scan(client):
    cast.danuta()
    cast.signed_in(client, cast.artist())
    said = boxes(serial="30014-72", code="12", language="es")
    assert client.post(at("from_before"), said).status_code == 302
    assert Form.objects.get().state == FormState.BROUGHT_HOME
