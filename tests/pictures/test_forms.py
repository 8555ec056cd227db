"""What may be typed about a picture; the frame is one line for each who sat."""

from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from relations.pictures import actions
from relations.pictures.forms import CaptionForm, MendPictureForm, PictureForm
from relations.privacy.uploads import TooLarge
from tests import cast
from tests.pictures.test_actions import NOW, add, sit
from tests.pictures.test_light import image

pytestmark = pytest.mark.django_db
PICTURE = {"code": "k12", "made_on": "2026-11-23", "others": "none", "place_word": "none"}


def filled(form, data, files=None, **rest):
    return form({"token": str(uuid4()), **data}, files, **rest)


def test_frame_is_filled_by_place_and_unsure_counts_where_nothing_is_said() -> None:
    danuta, marcel = cast.danuta(), cast.marcel()
    sitting = sit(danuta, marcel)
    who = {"sitting": sitting, "sitters": [marcel, danuta]}
    form = filled(PictureForm, {**PICTURE, "place_12": "٢"}, **who)
    assert form.is_valid(), form.errors
    assert form.in_frame == [(danuta, 2, "unsure")]
    assert form.noted["code"] == "K12"
    data = {**PICTURE, "place_12": "1", "place_01": "2", "recognisable_01": "no"}
    form = filled(PictureForm, data, **who)
    assert form.is_valid()
    assert form.in_frame == [(marcel, 2, "no"), (danuta, 1, "unsure")]


def test_day_to_come_and_upload_beyond_the_limit_are_refused() -> None:
    who = {"sitting": sit(), "sitters": [cast.danuta()]}
    given = image()
    too_large = TooLarge(
        file=SimpleUploadedFile("k.jpg", given), field_name="light_copy", name="k.jpg",
        content_type="image/jpeg", size=len(given), charset=None,
    )  # fmt: skip
    data = {**PICTURE, "made_on": "2026-11-24"}
    form = filled(PictureForm, data, {"light_copy": too_large}, **who)
    assert set(form.errors) == {"made_on", "light_copy"}


def test_mending_tells_what_is_another_one_now() -> None:
    picture = add(sit())
    (one,) = picture.appearances.select_related("person")
    about = {"picture": picture, "appearances": [one]}
    same = {"others": "none", "place_word": "none", "recognisable_12": "yes"}
    form = filled(MendPictureForm, same, **about)
    assert form.is_valid(), form.errors
    assert (form.changes, form.judged) == ({}, {})
    form = filled(MendPictureForm, {**same, "alt_text": "A", "recognisable_12": "no"}, **about)
    assert form.is_valid()
    assert (form.changes, form.judged) == ({"alt_text": "A"}, {one: "no"})


def test_nobody_chooses_or_mends_that_somebody_was_erased() -> None:
    sitting = sit()
    who = {"sitting": sitting, "sitters": [cast.danuta()]}
    form = filled(PictureForm, {**PICTURE, "others": "erased", "place_12": "1"}, **who)
    assert set(form.errors) == {"others"}
    picture = add(sitting, others="erased")
    (one,) = picture.appearances.select_related("person")
    said = {"place_word": "city", "recognisable_12": "yes"}
    form = filled(MendPictureForm, said, picture=picture, appearances=[one])
    assert "others" not in form.fields
    assert form.is_valid(), form.errors
    assert form.changes == {"place_word": "city"}


def test_caption_begins_with_the_words_that_stand_and_offers_the_quotes_of_those_in_it() -> None:
    picture = add(sit())
    assert "quotes" not in CaptionForm(picture=picture).fields
    given = {"by": cast.artist(), "at": NOW}
    quote = actions.add_quote(code="Q1", person=cast.danuta(), words="The tide waits.", **given)
    actions.write_caption(picture=picture, words="At the mole", **given)
    form = CaptionForm(picture=picture)
    assert form.fields["words_under"].initial == "At the mole"
    form = filled(CaptionForm, {"words_under": "x", "quotes": [str(quote.pk)]}, picture=picture)
    assert form.is_valid()
    assert list(form.written["quotes"]) == [quote]
