"""Pages of sittings: who sat, the film, somebody more, a picture out of one."""

from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from relations.people.models import Standing
from relations.pictures.models import Picture, Sitting
from tests import cast
from tests.meetings.test_views import page, send
from tests.pictures.test_actions import sit
from tests.pictures.test_light import image

pytestmark = pytest.mark.django_db
SIT = {"code": "28-T7", "on": "2026-11-23", "light": "available", "sheets": "6", "holders": "11"}
ADD = {"code": "K28", "made_on": "2026-11-23", "others": "none", "place_word": "none"}


def test_sitting_is_noted_once_and_moves_to_taking_part(loic) -> None:
    edelmira = cast.edelmira()
    cast.in_sight(edelmira, cast.assistant())
    page(loic, "pictures:sit", "28")
    data = {**SIT, "token": str(uuid4())}
    for _ in range(2):
        answer = loic.post(reverse("pictures:sit", args=["28"]), data)
        assert answer.headers["Location"] == reverse("pictures:sitting", args=["28-T7"])
    edelmira.refresh_from_db()
    assert edelmira.standing == Standing.TAKING_PART
    assert Sitting.objects.get().sheets.count() == 6
    text = page(loic, "pictures:sitting", "28-T7")
    assert "Edelmira" in text
    assert "11" in text


def test_sitting_without_a_sheet_or_an_agreement_is_refused_in_words(loic) -> None:
    cast.in_sight(cast.edelmira(), cast.assistant())
    answer = send(loic, "pictures:sit", "28", **{**SIT, "sheets": "0", "holders": ""})
    assert answer.status_code == 422
    assert "No sheet was exposed" in answer.content.decode()
    cast.in_sight(cast.bruno(), cast.assistant())
    answer = send(loic, "pictures:sit", "19", **SIT)
    assert answer.status_code == 422
    assert "cannot follow" in answer.content.decode()
    assert send(loic, "pictures:sit", "28", **{**SIT, "sheets": "many"}).status_code == 422


def test_code_of_a_sitting_may_hold_a_slash(loic) -> None:
    sit(cast.danuta(), code="12/T7")
    assert "12/T7" in page(loic, "pictures:sittings")
    for name in ("sitting", "join", "sheets", "add"):
        page(loic, f"pictures:{name}", "12/T7")


def test_somebody_more_steps_in(client) -> None:
    artist = cast.signed_in(client, cast.artist())
    sitting = sit(cast.danuta())
    cast.edelmira()
    assert send(artist, "pictures:join", "12-T7", code="99").status_code == 422
    assert send(artist, "pictures:join", "12-T7", code="28").status_code == 302
    assert sitting.sitters.count() == 2


def test_film_comes_back_or_is_lost(loic) -> None:
    sitting = sit(cast.danuta())
    send(loic, "pictures:sheets", "12-T7", numbers=["1", "2"], state="processed")
    send(loic, "pictures:sheets", "12-T7", numbers=["3"], state="lost")
    states = sitting.sheets.values_list("state", flat=True)
    assert list(states) == ["processed", "processed", "lost", "exposed"]
    text = page(loic, "pictures:sitting", "12-T7")
    assert "lost" in text
    assert "1 lost" in page(loic, "pictures:sittings")
    assert send(loic, "pictures:sheets", "12-T7", state="lost").status_code == 422


def test_picture_is_added_with_everyone_in_it(loic) -> None:
    sit(cast.danuta(), cast.marcel())
    file = SimpleUploadedFile("k.jpg", image(size=(30, 40)), "image/jpeg")
    data = {**ADD, "place_12": "1", "recognisable_12": "yes", "light_copy": file}
    answer = send(loic, "pictures:add", "12-T7", **data)
    assert answer.headers["Location"] == reverse("pictures:detail", args=["K28"])
    picture = Picture.objects.get()
    assert [one.person.code for one in picture.appearances.all()] == ["12"]
    assert picture.light_copy_type == "image/jpeg"
    assert "K28" in page(loic, "pictures:sitting", "12-T7")
    artist = cast.signed_in(loic, cast.artist())
    assert "light-copy" in page(artist, "pictures:sitting", "12-T7")


def test_picture_with_nobody_in_it_comes_back_as_typed(loic) -> None:
    sit(cast.danuta())
    answer = send(loic, "pictures:add", "12-T7", **ADD, alt_text="A hand")
    assert answer.status_code == 422
    text = answer.content.decode()
    assert "who is in the frame" in text
    assert "A hand" in text
    assert not Picture.objects.exists()


def test_sitting_out_of_sight_is_absent(loic) -> None:
    sit(cast.danuta())
    cast.danuta().in_sight.all().delete()
    for name in ("sitting", "join", "sheets", "add"):
        assert loic.get(reverse(f"pictures:{name}", args=["12-T7"])).status_code == 404
    assert loic.get(reverse("pictures:sit", args=["12"])).status_code == 404
    assert loic.post(reverse("pictures:sittings")).status_code == 405
