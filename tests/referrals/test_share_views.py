"""Sharing without names: the page, the drawing that leaves, and the map in disguise."""

import uuid

import pytest
from django.test import Client

from relations.people.models import Introduction
from relations.privacy.models import AccessEntry
from relations.referrals.models import Shared
from tests import cast
from tests.referrals import shared_cast as project

pytestmark = pytest.mark.django_db
ADDRESS, DRAWING, MAP = (f"/introductions/share/{page}" for page in ("", "drawing/", "map/"))


@pytest.fixture
def artist(client: Client) -> Client:
    return cast.signed_in(client, cast.artist())


def token() -> str:
    return str(uuid.uuid4())


def lines() -> list[tuple[str, str]]:
    return list(AccessEntry.objects.order_by("seq").values_list("verb", "kind"))


def test_page_explains_three_ways_counts_who_can_be_told_apart_and_shows_what_would_leave(artist):
    project.project()
    page = artist.get(ADDRESS)
    text = page.content.decode()
    assert page.status_code == 200
    for words in ("House map", "Working map", "Share drawing", "the most dangerous page"):
        assert words in text
    assert "Without names, 0 of 40 people could still be told apart" in text
    assert "People reached so far: 40." in text
    assert ">Orme</bdi></th>" in text
    assert "Nothing was made to be shown yet." in text
    assert project.NAME not in text
    assert lines() == [("read", "map")]


def test_drawing_is_made_once_kept_with_what_it_said_and_sent_as_a_file(artist):
    project.project()
    sent = {"file": "svg", "token": token()}
    for _ in range(2):
        assert artist.post(DRAWING, sent).headers["Location"] == f"{DRAWING}1.svg"
    assert Shared.objects.count() == 1
    file = artist.get(f"{DRAWING}1.svg")
    assert file.headers["Content-Type"] == "image/svg+xml"
    assert file.headers["Content-Disposition"] == 'attachment; filename="introductions.svg"'
    assert file.content.startswith(b"<svg xmlns")
    assert lines() == [("shared", "map"), ("printed", "map")]


def test_earlier_drawings_stand_beside_the_press_and_come_again_as_they_were(artist):
    project.project()
    artist.post(DRAWING, {"file": "svg", "token": token()})
    first = artist.get(f"{DRAWING}1.svg").content
    assert "says what the last one said" in artist.get(ADDRESS).content.decode()
    project.more(9)
    page = artist.get(ADDRESS).content.decode()
    assert "Share drawing 1: " in page
    assert ">40 people</bdi>" in page
    assert "as it would be made now" in page
    artist.post(DRAWING, {"file": "pdf", "token": token()})
    assert artist.get(f"{DRAWING}1.svg").content == first
    assert artist.get(f"{DRAWING}2.svg").content != first
    assert artist.get(f"{DRAWING}2.pdf").content.startswith(b"%PDF-")


@pytest.mark.parametrize("sent", [{}, {"file": "png"}])
def test_no_other_kind_of_file_is_made(artist, sent):
    page = artist.post(DRAWING, {**sent, "token": token()})
    assert page.status_code == 422
    assert not Shared.objects.exists()
    assert artist.get(f"{DRAWING}1.svg").status_code == 404


def test_a_file_of_another_kind_or_of_a_map_is_absent(artist):
    project.project()
    artist.post(DRAWING, {"file": "svg", "token": token()})
    assert artist.get(f"{DRAWING}1.png").status_code == 404
    artist.post(MAP, {"map-part": "group:oak", "map-token": token()})
    assert artist.get(f"{DRAWING}2.pdf").status_code == 404


def test_map_is_sent_at_once_kept_without_its_codes_and_noted(artist):
    project.project()
    file = artist.post(MAP, {"map-part": "line:X7", "map-token": token()})
    assert file.headers["Content-Disposition"] == 'attachment; filename="map.pdf"'
    assert file.content.startswith(b"%PDF-")
    assert Shared.objects.get().said == {"part": "line", "group": "", "people": 3}
    assert lines() == [("shared", "map")]
    page = artist.get(ADDRESS).content.decode()
    assert "Working map 1: " in page
    assert ">a line, 3 people</bdi>" in page


def test_map_of_a_line_that_is_not_there_is_not_made_and_the_page_says_so(artist):
    project.project()
    page = artist.post(MAP, {"map-part": "line:Q99", "map-token": token()})
    assert page.status_code == 422
    assert "Please look again" in page.content.decode()
    assert not Shared.objects.exists()


def test_under_thirty_people_the_page_tells_a_rounded_total_and_draws_nothing(artist):
    project.project()
    Introduction.objects.exclude(person__code__in=project.CODES[:18]).delete()
    text = artist.get(ADDRESS).content.decode()
    assert "People reached so far: 15 or a few more." in text
    assert 'role="img"' not in text


def test_with_nobody_yet_the_page_has_nothing_to_choose(artist):
    text = artist.get(ADDRESS).content.decode()
    assert "Nobody yet." in text
    assert "Without names" not in text
