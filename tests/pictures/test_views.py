"""Pages of pictures: they work, refuse bad input, another role, a stranger."""

from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from relations.pictures import actions
from relations.privacy.models import Mending
from tests import cast
from tests.meetings.test_views import page, send
from tests.pictures.test_actions import NOW, add, sit
from tests.pictures.test_light import image

pytestmark = pytest.mark.django_db


@pytest.fixture
def picture():
    return add(sit(cast.danuta()), light_copy=image(size=(40, 50)), alt_text="A hand")


def test_contact_sheet_shows_light_copies_to_the_artist_only(as_artist, client, picture) -> None:
    address = reverse("pictures:light_copy", args=["K12"])
    assert address in page(as_artist, "pictures:list")
    text = page(cast.signed_in(client, cast.assistant()), "pictures:list")
    assert "K12" in text
    assert address not in text


def test_assistant_asks_for_a_light_copy_to_see_it(loic, picture) -> None:
    address = reverse("pictures:light_copy", args=["K12"])
    text = page(loic, "pictures:detail", "K12")
    assert address not in text
    assert "Show the light copy" in text
    assert address in loic.get(reverse("pictures:detail", args=["K12"]) + "?show").content.decode()


def test_light_copy_is_kept_nowhere_on_the_way(loic, picture) -> None:
    answer = loic.get(reverse("pictures:light_copy", args=["K12"]))
    assert answer.content.startswith(b"\xff\xd8\xff")
    assert answer.headers["Content-Type"] == "image/jpeg"
    assert answer.headers["Cache-Control"] == "private, no-store"
    cast.danuta().in_sight.all().delete()
    assert loic.get(reverse("pictures:light_copy", args=["K12"])).status_code == 404


def test_picture_without_a_light_copy_has_none(as_artist) -> None:
    add(sit(cast.danuta()))
    assert as_artist.get(reverse("pictures:light_copy", args=["K12"])).status_code == 404
    assert "blank" in page(as_artist, "pictures:list")


def test_light_copy_is_given_and_what_is_none_is_refused(as_artist) -> None:
    picture = add(sit(cast.danuta()))
    page(as_artist, "pictures:copy", "K12")
    file = SimpleUploadedFile("k.jpg", b"%PDF-1.7 no picture", "image/jpeg")
    answer = send(as_artist, "pictures:copy", "K12", light_copy=file)
    assert answer.status_code == 422
    assert "JPEG, PNG or WebP picture" in answer.content.decode()
    assert send(as_artist, "pictures:copy", "K12").status_code == 422
    file = SimpleUploadedFile("k.png", image("PNG", size=(20, 20)), "image/png")
    assert send(as_artist, "pictures:copy", "K12", light_copy=file).status_code == 302
    picture.refresh_from_db()
    assert picture.light_copy_type == "image/png"


def test_page_of_a_picture_names_people_in_sight_only(loic) -> None:
    danuta, marcel = cast.danuta(), cast.marcel()
    whole = add(sit(danuta, marcel), (danuta, 1, "unsure"), (marcel, 2, "no"), others="unresolved")
    add(whole.sitting, code="K12a", crop_of=whole, others="none")
    marcel.in_sight.all().delete()
    text = page(loic, "pictures:detail", "K12")
    assert "Danuta" in text
    assert "Marcel" not in text
    assert "unsure: counts as yes" in text
    assert "K12a" in text
    assert "K12" in page(loic, "pictures:detail", "K12a")


def test_caption_is_a_new_version_and_for_the_artist(as_artist, client, picture) -> None:
    page(as_artist, "pictures:caption", "K12")
    send(as_artist, "pictures:caption", "K12", words_under="At the mole")
    assert "c1" in page(as_artist, "pictures:detail", "K12")
    answer = send(as_artist, "pictures:caption", "K12", words_under="At the mole")
    assert answer.status_code == 422
    assert "stand there already" in answer.content.decode()
    loic = cast.signed_in(client, cast.assistant())
    assert loic.get(reverse("pictures:caption", args=["K12"])).status_code == 404


def test_caption_that_is_too_long_comes_back_as_typed(as_artist, picture) -> None:
    answer = send(as_artist, "pictures:caption", "K12", words_under="x" * 401)
    assert answer.status_code == 422
    assert "x" * 401 in answer.content.decode()


def test_quote_in_a_caption_is_told_by_its_code(as_artist, picture) -> None:
    quote = actions.add_quote(
        code="Q1", person=cast.danuta(), words="The tide waits.", by=cast.artist(), at=NOW
    )
    page(as_artist, "pictures:caption", "K12")
    send(as_artist, "pictures:caption", "K12", words_under="At the mole", quotes=[str(quote.pk)])
    assert "Q1" in page(as_artist, "pictures:detail", "K12")


def test_mended_entry_stays_readable(as_artist, picture) -> None:
    page(as_artist, "pictures:mend", "K12")
    data = {"others": "settled", "place_word": "city", "recognisable_12": "no"}
    assert send(as_artist, "pictures:mend", "K12", **data).status_code == 302
    picture.refresh_from_db()
    assert (picture.others, picture.appearances.get().recognisable) == ("settled", "no")
    assert Mending.objects.count() == 2
    assert send(as_artist, "pictures:mend", "K12", others="x").status_code == 422


def test_anyone_with_hands_holds_and_the_artist_lifts(loic, client, picture) -> None:
    page(loic, "pictures:hold", "K12")
    send(loic, "pictures:hold", "K12")
    assert "Nothing happens with this picture" in page(loic, "pictures:detail", "K12")
    assert loic.get(reverse("pictures:lift", args=["K12"])).status_code == 404
    artist = cast.signed_in(client, cast.artist())
    assert "Hold" in page(artist, "pictures:list")
    page(artist, "pictures:lift", "K12")
    assert send(artist, "pictures:lift", "K12", sentence=" ").status_code == 422
    assert send(artist, "pictures:lift", "K12", sentence="A slip.").status_code == 302
    assert artist.get(reverse("pictures:lift", args=["K12"])).status_code == 404


def test_empty_pages_say_what_comes_next(as_artist) -> None:
    assert "No picture here yet" in page(as_artist, "pictures:list")
    assert "No sitting here yet" in page(as_artist, "pictures:sittings")


@pytest.mark.parametrize("user", [cast.keeper, cast.wording_reader])
def test_other_roles_see_nothing(client, user, picture) -> None:
    other = cast.signed_in(client, user())
    for name in ("list", "sittings"):
        assert other.get(reverse(f"pictures:{name}")).status_code == 404
    for name in ("detail", "light_copy", "copy", "mend", "caption", "hold", "lift"):
        assert other.get(reverse(f"pictures:{name}", args=["K12"])).status_code == 404
    for name in ("sitting", "add", "join", "sheets"):
        assert other.get(reverse(f"pictures:{name}", args=["12-T7"])).status_code == 404
    data = {"token": str(uuid4())}
    assert other.post(reverse("pictures:sit", args=["12"]), data).status_code == 404


def test_stranger_is_led_to_the_door_and_nothing_is_written_by_a_look(client, loic) -> None:
    assert loic.post(reverse("pictures:list")).status_code == 405
    client.logout()
    assert client.get(reverse("pictures:list")).headers["Location"].startswith("/in/")
