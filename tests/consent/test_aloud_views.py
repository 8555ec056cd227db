"""Pages of what is said of a picture and its words; they are for the artist."""

import pytest
from django.urls import reverse

from relations.consent.models import CaptionAnswer
from relations.pictures import actions as pictures
from tests import cast
from tests.consent import desk
from tests.meetings.test_views import page, send

pytestmark = pytest.mark.django_db


@pytest.fixture
def artist(client):
    return cast.signed_in(client, cast.artist())


@pytest.fixture
def picture():
    danuta, marcel = cast.danuta(), cast.marcel()
    desk.frozen("fr")
    sat = desk.sitting("12/T6", danuta, marcel)
    desk.standing(show_first=True, approves_captions=True)
    made = desk.picture("K12", sat, danuta, marcel)
    given = {"by": cast.artist(), "at": cast.moment()}
    quote = pictures.add_quote(code="q1", person=danuta, words="The tide waits.", **given)
    pictures.write_caption(picture=made, words="At the mole", quotes=[quote], **given)
    return made


def test_what_they_said_is_noted_with_who_read_and_in_which_language(artist, picture) -> None:
    assert reverse("consent:said_of", args=["K12"]) in page(artist, "pictures:detail", "K12")
    text = page(artist, "consent:said_of", "K12")
    assert "Asked to see it first: show it" in text
    assert "Asked to hear them first: read them aloud" in text
    assert "Not agreed to yet: read it aloud" in text
    assert "No form of theirs speaks of this sitting." in text
    text = page(artist, "consent:read_to", "K12", "12")
    assert "At the mole" in text
    assert "The tide waits." in text
    assert "Read aloud to 12" in text
    quote = f"quote_{cast.danuta().quotes.get().pk}"
    said = {"on": "2026-11-23", "read_by": str(cast.assistant().pk), "language": "fr"}
    said |= {"version": "c1", "seen": "yes", "words_read": "yes", quote: "no"}
    answer = send(artist, "consent:read_to", "K12", "12", **said)
    assert answer.headers["Location"] == reverse("consent:said_of", args=["K12"])
    text = page(artist, "consent:said_of", "K12")
    assert 'read by <bdi><bdi dir="ltr" class="words">Loïc</bdi></bdi> in French' in text
    assert "Asked to" not in text
    assert CaptionAnswer.objects.get().language == "fr"


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"version": "c0"}, "These words have changed since you opened the page."),
        ({"on": "2026-11-24"}, "This day is still to come."),
        ({"on": "2026-11-01"}, "No form of theirs that was given by then"),
        ({"words_read": "not_said", "seen": "not_said"}, "Note at least one answer."),
        ({"language": "xx"}, "xx"),
        ({"read_by": ""}, "required"),
    ],
)
def test_what_cannot_be_is_said_and_comes_back_as_typed(artist, picture, wrong, words) -> None:
    said = {"on": "2026-11-23", "read_by": str(cast.artist().pk), "language": "fr"}
    said |= {"version": "c1", "seen": "yes", "words_read": "yes"}
    answer = send(artist, "consent:read_to", "K12", "12", **said | wrong)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not CaptionAnswer.objects.exists()


def test_picture_without_words_is_only_shown(artist, picture) -> None:
    bare = desk.picture("K13", picture.sitting, cast.danuta())
    text = page(artist, "consent:read_to", "K13", "12")
    assert "May this picture be shown?" in text
    assert "May these words stand under it?" not in text
    said = {"on": "2026-11-23", "read_by": str(cast.artist().pk), "language": "fr", "seen": "no"}
    assert send(artist, "consent:read_to", "K13", "12", **said).status_code == 302
    assert bare.answers.get().is_yes is False
    pictures.write_caption(picture=bare, words="x", by=cast.artist(), at=cast.moment())
    assert "not asked to hear them" not in page(artist, "consent:said_of", "K13")


def test_nobody_is_read_to_who_is_not_in_the_picture(artist, picture) -> None:
    cast.bruno()
    address = reverse("consent:read_to", args=["K12", cast.bruno().code])
    assert artist.get(address).status_code == 404


def test_what_they_said_is_for_the_artist(client, picture) -> None:
    loic = cast.signed_in(client, cast.assistant())
    for address in ("/forms/said-of/K12/", "/forms/said-of/K12/12/"):
        assert loic.get(address).status_code == 404
