"""Pages of records and copies: files under the serial, for the artist alone, each look logged."""

import pytest

from relations.consent import archive
from relations.consent.history import KeptCopy
from relations.privacy.models import AccessEntry
from tests import cast
from tests.audit import faults
from tests.consent import desk
from tests.consent.records import graph

pytestmark = pytest.mark.django_db


@pytest.fixture
def artist(client):
    return cast.signed_in(client, cast.artist())


@pytest.fixture
def form():
    desk.sitting("12/T6", cast.danuta())
    return desk.standing(agreed_name="Zéphirine", name_form="pseudonym")


def looks(kind):
    found = AccessEntry.objects.filter(verb="read", kind=kind)
    return [(one.by, one.key) for one in found]


@pytest.mark.parametrize(
    ("page", "name"), [("record", "70042-74.jsonld"), ("receipt", "70042-74-receipt.jsonld")]
)
def test_record_is_a_file_under_the_serial_and_the_look_is_logged(artist, form, page, name):
    answer = artist.get(f"/forms/70042-74/{page}/")
    assert answer.headers["Content-Type"] == "application/ld+json"
    assert answer.headers["Content-Disposition"] == f'attachment; filename="{name}"'
    assert len(graph(answer.content)) > 100
    assert looks(page) == [(cast.artist().pk, form.person.log_key)]
    assert "Zéphirine".encode() not in answer.content
    assert form.person.call_name.encode() not in answer.content


def test_record_of_a_paper_that_is_nobodys_yet_is_not_there(artist):
    desk.paper(70_050)
    assert artist.get(f"/forms/{desk.serial(70_050)}/record/").status_code == 404
    assert not looks("record")


def test_assistant_is_answered_as_if_it_were_not_there(client, form):
    cast.in_sight(form.person, cast.assistant())
    there = cast.signed_in(client, cast.assistant())
    for page in ("record", "receipt", "kept/1"):
        assert there.get(f"/forms/70042-74/{page}/").status_code == 404
    shown = there.get("/forms/70042-74/").content.decode()
    assert "record" not in shown
    assert not AccessEntry.objects.filter(verb="read").exists()


def test_one_press_makes_the_copies_that_wait_and_the_page_says_which(artist, form, monkeypatch):
    monkeypatch.setattr(archive, "archive_copy", lambda *, form, record: b"%PDF as it stood")
    assert "/forms/keep/" in artist.get("/forms/?part=standing").content.decode()
    page = artist.get("/forms/keep/")
    assert not faults(page.content.decode())
    assert "70042-74" in page.content.decode()
    token = page.context["form"]["token"].value()
    after = artist.post("/forms/keep/", {"token": token}, follow=True)
    assert "Every form that stands has its copy." in after.content.decode()
    assert "/forms/keep/" not in artist.get("/forms/?part=standing").content.decode()
    copy = artist.get("/forms/70042-74/kept/1/")
    assert copy.content == b"%PDF as it stood"
    assert copy.headers["Content-Disposition"] == 'inline; filename="70042-74-1.pdf"'
    assert looks("kept_copy") == [(cast.artist().pk, form.person.log_key)]


def test_copy_that_could_not_be_laid_out_is_said_and_waits(artist, form, monkeypatch):
    def lay(**_):
        raise archive.LengthError(3)

    monkeypatch.setattr(archive, "archive_copy", lay)
    token = artist.get("/forms/keep/").context["form"]["token"].value()
    answer = artist.post("/forms/keep/", {"token": token})
    assert answer.status_code == 422
    assert "A copy could not be laid out." in answer.content.decode()
    assert KeptCopy.objects.get().file == ""


def test_copy_that_is_not_made_yet_or_never_was_is_not_there(artist, form):
    assert artist.get("/forms/70042-74/kept/1/").status_code == 404
    assert artist.get("/forms/70042-74/kept/7/").status_code == 404
    assert not looks("kept_copy")


def test_page_of_the_form_leads_to_them_and_says_what_is_missing(artist, form, monkeypatch):
    shown = artist.get("/forms/70042-74/").content.decode()
    assert not faults(shown)
    assert "The record is not complete." in shown
    assert "the project’s address" in shown
    assert "It stood; its record is kept." in shown
    assert "/forms/keep/" in shown
    monkeypatch.setattr(archive, "archive_copy", lambda *, form, record: b"%PDF as it stood")
    archive.lay_out_some(by=cast.artist(), at=desk.AT)
    shown = artist.get("/forms/70042-74/").content.decode()
    assert "/forms/70042-74/kept/1/" in shown
    assert "/forms/keep/" not in shown


def test_page_of_a_complete_record_names_nothing_missing(artist, form, settings):
    settings.RELATIONS_PROJECT = "Atelier"
    settings.RELATIONS_PROJECT_ADDRESS = "1 quai des Essais"
    settings.RELATIONS_PROJECT_CONTACT = "atelier@example.org"
    settings.RELATIONS_LAW_OF = settings.RELATIONS_STORED_IN = "FR"
    form.sheet.version = "2"
    form.sheet.save()
    assert "The record is not complete." not in artist.get("/forms/70042-74/").content.decode()
