"""The pages of the drawings: by code, names by a press alone, and every look is noted."""

from uuid import uuid4

import pytest
from django.test import Client

from relations.privacy.models import AccessEntry
from relations.referrals import scopes
from tests import cast
from tests.house.asking import without_chance

pytestmark = pytest.mark.django_db
LINE = "/introductions/growth/line/01/"


@pytest.fixture
def ines(client: Client) -> Client:
    cast.herve()
    cast.bruno()
    cast.ibrahima()
    return cast.signed_in(client, cast.artist())


def noted() -> list[tuple[str, str]]:
    return list(AccessEntry.objects.order_by("seq").values_list("verb", "kind"))


@pytest.mark.parametrize(
    "address",
    [LINE, "/introductions/growth/whole/all/", "/introductions/steps/line/01/",
     "/introductions/growth/group/none/"],
)  # fmt: skip
def test_a_drawing_is_by_code_with_its_caution_and_the_look_is_noted(
    ines: Client, address: str
) -> None:
    page = ines.get(address)
    text = page.content.decode()
    assert page.status_code == 200
    assert 'href="#p41"' in text
    assert 'id="p41"' in text
    assert "the most dangerous page" in text
    assert not [name for name in ("Hervé", "Danuta", "Bruno", "Marcel") if name in text]
    assert noted() == [("read", "map")]
    assert "style=" not in text


def test_everybody_is_offered_last_and_with_a_warning(ines: Client) -> None:
    text = ines.get(LINE).content.decode()
    links = [text.index(f"/introductions/growth/{one}/") for one in ("group/aulne", "whole/all")]
    assert links == sorted(links)
    assert "tells most to whoever finds it" in text


def test_small_lines_are_only_counted_where_there_are_many(
    ines: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "smaller line" not in ines.get(LINE).content.decode()
    monkeypatch.setattr(scopes, "MOST_LINES", 1)
    text = ines.get(LINE).content.decode()
    assert "1 smaller line is not listed" in text
    assert "/introductions/growth/line/X2/" not in text
    assert "/introductions/growth/whole/all/" in text


def test_one_person_is_noted_under_their_key(ines: Client) -> None:
    page = ines.get("/introductions/person/19/")
    assert page.status_code == 200
    assert 'href="#p12"' in page.content.decode()
    entry = AccessEntry.objects.get()
    assert (entry.kind, entry.key) == ("map", cast.bruno().log_key)


def test_names_are_shown_by_a_press_and_at_no_address(ines: Client) -> None:
    assert ines.get(f"{LINE}names/").status_code == 405
    page = ines.post(f"{LINE}names/")
    text = page.content.decode()
    assert "Hervé" in text
    assert "no-store" in page.headers["Cache-Control"]
    assert "<title>Line of 01 – Portraits</title>" in text
    assert "Ibrahima" not in text
    assert noted() == [("read", "names")]


@pytest.mark.parametrize("address", [
    "/introductions/growth/line/99/", "/introductions/steps/group/oak/",
    "/introductions/person/99/", "/introductions/growth/line/99/paper/",
])  # fmt: skip
def test_what_is_not_there_is_absent_and_nothing_is_noted(ines: Client, address: str) -> None:
    assert ines.get(address).status_code == 404
    assert noted() == []


def test_a_paper_is_chosen_on_a_page_that_shows_nobody(ines: Client) -> None:
    text = without_chance(ines.get(f"{LINE}paper/").content.decode())
    assert "41" not in text
    assert "Everybody on" not in text
    assert (
        "This is everybody" in ines.get("/introductions/growth/whole/all/paper/").content.decode()
    )
    assert noted() == []


def test_a_paper_is_made_by_a_press_and_noted(ines: Client) -> None:
    sent = {"paper": "A4", "labels": "names", "sheets": "many", "token": str(uuid4())}
    answer = ines.post(f"{LINE}paper/", sent)
    assert answer.content.startswith(b"%PDF")
    assert answer.headers["Content-Disposition"] == 'inline; filename="introductions.pdf"'
    assert noted() == [("printed", "names")]
    ines.post(f"{LINE}paper/", {**sent, "labels": "codes"})
    assert noted()[1:] == [("printed", "map")]


def test_a_paper_of_nothing_chosen_is_not_made(ines: Client) -> None:
    assert ines.post(f"{LINE}paper/", {"token": str(uuid4())}).status_code == 422
    assert noted() == []
