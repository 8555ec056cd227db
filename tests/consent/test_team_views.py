"""Pages that print a sheet for the team, through the client."""

import subprocess
from uuid import uuid4

import pytest
from django.urls import reverse

from relations.consent import team
from relations.consent.sheets import prove_sheet
from relations.documents.models import Sheet
from relations.documents.values import PaperKind
from relations.meetings.models import Helper, Meeting
from relations.pictures.models import Sitting
from relations.privacy.models import Role
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db
PAGES = ("meeting_sheet", "sitting_sheet", "spot_sheet")


@pytest.fixture
def address():
    """The address of each page, about Danuta; French and English were read."""
    desk.frozen("fr", "en")
    danuta = cast.danuta()
    helper = Helper.objects.create(kind="interpreter", initials="A.D.", name="Aldona Dzik")
    meeting = Meeting.objects.create(
        person=danuta, state="fixed", at=desk.AT, place="behind the quay", interpreter=helper
    )
    paper = desk.paper(person=danuta)
    asked = {
        "meeting_sheet": meeting.pk,
        "sitting_sheet": danuta.code,
        "spot_sheet": paper.sheet.serial,
    }
    return {name: reverse(f"consent:{name}", args=[asked[name]]) for name in PAGES}


def said(*languages, **more):
    held = desk.frozen("fr", "en")
    first, second = (held[language].pk for language in languages or ("fr", "en"))
    return {"token": str(uuid4()), "first": first, "second": second, **more}


def words(answer) -> str:
    assert answer.headers["Content-Type"] == "application/pdf", answer.content
    ran = subprocess.run(
        ["pdftotext", "-layout", "-", "-"], input=answer.content, capture_output=True, check=True
    )
    return ran.stdout.decode()


@pytest.mark.parametrize("name", PAGES)
def test_looking_prints_nothing(client, address, name):
    before = Sheet.objects.count()
    shown = cast.signed_in(client, cast.artist()).get(address[name])
    assert shown.status_code == 200
    assert "Print the sheet" in shown.content.decode()
    assert Sheet.objects.count() == before


@pytest.mark.needs("pdftotext")
@pytest.mark.parametrize("name", PAGES)
def test_press_prints_one_sheet_under_a_number_of_its_own(client, address, name):
    cast.signed_in(client, cast.artist())
    before = set(Sheet.objects.all())
    press = said()
    answer = client.post(address[name], press)
    made = (set(Sheet.objects.all()) - before).pop()
    assert made.kind == name.removesuffix("_sheet")
    assert (made.printed_by, made.version) == (cast.artist(), "1")
    assert f'filename="{made.serial}.pdf"' in answer.headers["Content-Disposition"]
    page = words(answer)
    assert made.serial in page
    assert f"Printed by the artist · {cast.TODAY}" in page
    assert "Danuta" not in page and "quay" not in page
    # Sent twice it is printed once: the second press leads back to the page.
    again = client.post(address[name], press)
    assert (again.status_code, again.headers["Location"]) == (302, address[name])
    assert Sheet.objects.count() == len(before) + 1


@pytest.mark.needs("pdftotext")
def test_meeting_sheet_bears_the_code_the_languages_and_the_initials(client, address):
    page = words(cast.signed_in(client, cast.artist()).post(address["meeting_sheet"], said()))
    danuta = cast.danuta()
    assert danuta.code in page and ", ".join(danuta.language_list) in page
    assert "A.D." in page and "Aldona" not in page


@pytest.mark.needs("pdftotext")
def test_sitting_sheet_bears_the_code_of_the_sitting_to_come_and_of_all_who_sit(client, address):
    danuta, marcel = cast.danuta(), cast.marcel()
    cast.signed_in(client, cast.artist())
    codes = f"{marcel.code} {danuta.code} {marcel.code}"
    page = words(client.post(address["sitting_sheet"], said(also=codes)))
    assert f"{danuta.code}-1" in page
    assert f"{danuta.code}, {marcel.code}" in page
    assert not Sitting.objects.exists()


@pytest.mark.needs("pdftotext")
def test_spot_sheet_names_the_form_it_is_for(client, address):
    page = words(cast.signed_in(client, cast.artist()).post(address["spot_sheet"], said()))
    assert desk.serial() in page


@pytest.mark.needs("pdftotext")
def test_proof_of_a_sheet_was_printed_by_nobody():
    held = desk.wordings()
    proof = prove_sheet(
        kind=PaperKind.RECEIPT,
        first=held["ar"],
        second=held["en"],
        values=team.of_print(code="K12"),
    )
    ran = subprocess.run(["pdftotext", "-", "-"], input=proof, capture_output=True, check=True)
    page = ran.stdout.decode()
    assert "Draft. Not for signing." in page and "Printed by" not in page


@pytest.mark.parametrize("name", PAGES)
def test_unread_wording_is_refused_with_words(client, address, name):
    cast.signed_in(client, cast.artist())
    before = Sheet.objects.count()
    answer = client.post(address[name], said("ar", "fr"))
    assert answer.status_code == 422
    kind = name.removesuffix("_sheet")
    proof = reverse("consent:paper_proof", args=[kind, "ar", "fr"])
    assert f'href="{proof}"' in answer.content.decode()
    assert client.get(proof).headers["Content-Type"] == "application/pdf"
    assert Sheet.objects.count() == before


@pytest.mark.parametrize("name", PAGES)
def test_page_is_there_only_for_whose_hands_do_the_work(client, address, name):
    assert client.get(address[name]).status_code == 302
    for user in cast.everyone():
        seen = cast.signed_in(client, user).get(address[name]).status_code
        # The form is on its way, which is the assistant's work; Danuta is out of their sight.
        is_theirs = user.is_artist or (user.role == Role.ASSISTANT and name == "spot_sheet")
        assert seen == (200 if is_theirs else 404)


def test_two_wordings_are_needed(client, address, monkeypatch):
    monkeypatch.setattr("relations.consent.access.newest", lambda user: [])
    shown = cast.signed_in(client, cast.artist()).get(address["spot_sheet"])
    assert "Two wordings are needed." in shown.content.decode()


@pytest.mark.parametrize(
    "page, name",
    [("meetings:detail", "meeting_sheet"), ("today:person", "sitting_sheet"),
     ("consent:detail", "spot_sheet")],
)  # fmt: skip
def test_sheet_is_reached_from_the_page_it_is_about(client, address, page, name):
    cast.signed_in(client, cast.artist())
    args = {
        "meetings:detail": Meeting.objects.first().pk,
        "today:person": cast.danuta().code,
        "consent:detail": desk.serial(),
    }
    shown = client.get(reverse(page, args=[args[page]])).content.decode()
    assert f'href="{address[name]}"' in shown
