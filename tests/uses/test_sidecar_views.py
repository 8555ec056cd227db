"""Pages of metadata for a cleared selection: for the artist, behind the password, and logged."""

from io import BytesIO
from zipfile import ZipFile

import pytest

from relations.people.models import Name, Participant
from relations.pictures.models import Picture
from relations.privacy.models import AccessEntry
from tests import cast
from tests.audit import faults
from tests.uses import plans

pytestmark = pytest.mark.django_db


@pytest.fixture
def artist(client):
    return cast.signed_in(client, cast.artist())


@pytest.fixture
def plan():
    plans.few("K01", "K02", "K07")
    marcel = Participant.objects.get(code="01")
    Name.objects.create(person=marcel, kind="own", text="Marcel Thouvenin")
    Name.objects.create(person=marcel, kind="never_print", text="Titi")
    return plans.plan("E1", "K01", "K02", "K07")


def page(client):
    answer = client.get("/uses/plan/E1/sidecars/")
    assert answer.status_code == 200
    text = answer.content.decode()
    assert faults(text) == []
    return text


def test_page_says_what_is_handed_on_and_shows_no_name(artist, plan) -> None:
    assert "/uses/plan/E1/sidecars/" in artist.get("/uses/plan/E1/").content.decode()
    text = page(artist)
    assert "K01.xmp" in text
    assert "1 picture is not cleared." in text
    assert "Thouvenin" not in text
    assert not AccessEntry.objects.filter(kind="names").exists()
    Picture.objects.filter(code="K01").update(file_name="titi01.jpg", alt_text="Titi")
    assert "2 pictures are not cleared." in page(artist)
    Picture.objects.filter(code="K01").update(file_name="01Titi.jpg", alt_text="")
    assert "A name that is never printed" in page(artist)


def test_file_of_them_is_taken_after_the_password_and_noted(artist, plan) -> None:
    answer = artist.get("/uses/plan/E1/sidecars/zip/")
    assert answer.headers["Content-Type"] == "application/zip"
    assert answer.headers["Content-Disposition"] == 'attachment; filename="metadata.zip"'
    with ZipFile(BytesIO(answer.content)) as file:
        assert file.namelist() == ["K01.xmp", "K02.xmp"]
        assert "Marcel Thouvenin" in file.read("K01.xmp").decode()
    assert AccessEntry.objects.filter(kind="sidecars", key=plan.pk).count() == 1


def test_nothing_cleared_says_what_to_do(artist) -> None:
    plans.plan("E1", "none")
    assert "No picture is cleared as things stand." in page(artist)
