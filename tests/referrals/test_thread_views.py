"""The presses beside what is open: for the artist, with the day of the press, and taken back."""

import pytest
from django.test import Client

from relations.people.models import OutsideIntroducer, Participant
from relations.privacy.home import today
from tests import cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def artist(client: Client) -> Client:
    return cast.signed_in(client, cast.artist())


def test_thanked_is_one_press_and_can_be_taken_back(artist):
    cast.marcel()
    answer = artist.post("/introductions/thanked/01/")
    assert answer.headers["Location"] == "/introductions/#h-thanks"
    assert Participant.objects.get(code="01").thanked_on == today()
    artist.post("/introductions/thanked/01/", {"not": "1"})
    assert Participant.objects.get(code="01").thanked_on is None


def test_whoever_is_outside_can_be_thanked(artist):
    code = cast.chaplaincy().code
    artist.post(f"/introductions/thanked/{code}/")
    assert OutsideIntroducer.objects.get(code=code).thanked_on == today()


def test_asked_whether_they_know_somebody_is_one_press_and_can_be_taken_back(artist):
    cast.marcel()
    answer = artist.post("/introductions/asked-to-tell/01/")
    assert answer.headers["Location"] == "/introductions/#h-open"
    assert Participant.objects.get(code="01").asked_to_tell_on == today()
    artist.post("/introductions/asked-to-tell/01/", {"not": "1"})
    assert Participant.objects.get(code="01").asked_to_tell_on is None


@pytest.mark.parametrize("press", ["thanked", "asked-to-tell"])
def test_nobody_of_that_code_is_the_404_that_another_role_gets(client, press):
    cast.marcel()
    assistant = cast.signed_in(client, cast.assistant())
    assert assistant.post(f"/introductions/{press}/01/").status_code == 404
    artist = cast.signed_in(Client(), cast.artist())
    assert artist.post(f"/introductions/{press}/nobody/").status_code == 404
    assert Participant.objects.get(code="01").thanked_on is None
