"""Pages of a frame: strangers, a crop, words of theirs, and names that stand in words."""

import pytest
from django.urls import reverse

from relations.documents.models import Scan, Sheet
from relations.meetings.models import Interview
from relations.pictures.models import Picture, Quote
from tests import cast
from tests.meetings.test_views import page, send
from tests.pictures.test_actions import add, caption, sit
from tests.pictures.test_leaks import never
from tests.pictures.test_light import image
from tests.rows import make

pytestmark = pytest.mark.django_db


@pytest.fixture
def picture():
    danuta, marcel = cast.danuta(), cast.marcel()
    frame = [(danuta, 1, "yes"), (marcel, 2, "yes")]
    return add(sit(danuta, marcel), *frame, light_copy=image(size=(40, 50)), place_word="city")


def test_stranger_is_noted_and_settled_on_paper(loic, picture) -> None:
    page(loic, "pictures:strangers", "K12")
    said = {"place": "3", "became": "not_asked", "on": "2026-11-23"}
    assert send(loic, "pictures:strangers", "K12", **said).status_code == 302
    assert "not asked yet" in page(loic, "pictures:detail", "K12")
    said |= {"became": "said_yes"}
    answer = send(loic, "pictures:strangers", "K12", **said)
    assert answer.status_code == 422
    assert "type its serial" in answer.content.decode()
    filed = make(Scan, sheet=make(Sheet, serial="10012-34")).sheet
    said |= {"serial": filed.serial}
    assert send(loic, "pictures:strangers", "K12", **said).status_code == 302
    text = page(loic, "pictures:strangers", "K12")
    assert "said yes, on paper" in text
    assert "10012-34" in text
    picture.refresh_from_db()
    assert picture.others == "settled"
    assert send(loic, "pictures:strangers", "K12", **said | {"place": "1"}).status_code == 422


def test_crop_is_a_picture_of_its_own_with_its_own_answers(loic, picture) -> None:
    assert "K12A" in page(loic, "pictures:crop", "K12")
    said = {"code": "K12A", "others": "none", "place_word": "none", "place_12": "1"}
    said |= {"place_01": "", "recognisable_12": "no", "recognisable_01": "no"}
    assert send(loic, "pictures:crop", "K12", **said).status_code == 302
    crop = Picture.objects.get(code="K12A")
    assert (crop.crop_of, crop.made_on, crop.sitting) == (picture, picture.made_on, picture.sitting)
    assert [(one.person.code, one.recognisable) for one in crop.appearances.all()] == [("12", "no")]
    assert "K12B" in page(loic, "pictures:crop", "K12")
    assert send(loic, "pictures:crop", "K12", **said).status_code == 422
    assert send(loic, "pictures:crop", "K12A", **said | {"code": "K12AA"}).status_code == 302
    assert Picture.objects.get(code="K12AA").crop_of == crop


def test_words_of_theirs_are_kept_under_a_code_of_their_own(as_artist, client, picture) -> None:
    page(as_artist, "pictures:quote", "K12")
    said = {"said_by": "12", "their_words": "The tide waits."}
    answer = send(as_artist, "pictures:quote", "K12", **said)
    assert answer.headers["Location"] == reverse("pictures:caption", args=["K12"])
    assert (Quote.objects.get().code, Quote.objects.get().by) == ("q1", cast.danuta())
    assert "The tide waits." in page(as_artist, "pictures:quote", "K12")
    send(as_artist, "pictures:quote", "K12", **said)
    assert Quote.objects.filter(code="q2").exists()
    assert (
        send(as_artist, "pictures:quote", "K12", said_by="38", their_words="x").status_code == 422
    )
    loic = cast.signed_in(client, cast.assistant())
    assert loic.get(reverse("pictures:quote", args=["K12"])).status_code == 404


def test_words_of_theirs_say_in_which_talk_they_were_said(as_artist, picture) -> None:
    assert "Said in the talk" not in page(as_artist, "pictures:quote", "K12")
    talk = make(Interview, person=cast.danuta(), held_on=cast.TODAY)
    assert "12 · 23 November 2026" in page(as_artist, "pictures:quote", "K12")
    said = {"said_by": "12", "their_words": "The tide waits.", "interview": str(talk.pk)}
    send(as_artist, "pictures:quote", "K12", **said)
    assert Quote.objects.get().interview == talk


def test_caption_with_a_name_in_another_script_is_refused_as_typed(as_artist, picture) -> None:
    never(cast.danuta(), "زوفيا", "Arab")
    answer = send(as_artist, "pictures:caption", "K12", words_under="في الميناء: زُوفِيا")
    text = answer.content.decode()
    assert answer.status_code == 422
    assert "A name stands in it that is never printed" in text
    assert "زُوفِيا" in text  # as it was typed
    assert "another person’s" not in text
    assert not picture.captions.exists()


def test_name_of_another_is_asked_about_once(as_artist, picture) -> None:
    never(cast.bruno(), "Ljubomir")
    said = {"words_under": "With Ljubomir"}
    answer = send(as_artist, "pictures:caption", "K12", **said)
    text = answer.content.decode()
    assert answer.status_code == 422
    assert 'type="checkbox" name="means_another"' in text
    assert cast.bruno().call_name not in text
    assert send(as_artist, "pictures:caption", "K12", **said, means_another="on").status_code == 302
    assert picture.captions.get().words == "With Ljubomir"


def test_names_in_words_are_listed_by_call_name_and_without_the_name(as_artist, client, picture):
    assert "None was found" in page(as_artist, "pictures:leaks")
    caption(picture, "Zofia Wrzos at the mole")
    other = add(sit(cast.edelmira(), code="09-T7"), (cast.edelmira(), 1, "yes"), code="K09")
    caption(other, "With Zofia Wrzos")
    never(cast.danuta(), "Zofia Wrzos")
    text = page(as_artist, "pictures:leaks")
    assert "Danuta" in text
    assert "Wrzos" not in text
    assert text.index("in the picture") < text.index("perhaps another of that name")
    assert reverse("pictures:caption", args=["K12"]) in text
    loic = cast.signed_in(client, cast.assistant())
    assert loic.get(reverse("pictures:leaks")).status_code == 404
