"""Pictures come with everybody in them from left to right, and with the words that stand now."""

from datetime import timedelta

import pytest

from relations.consent.frames import Words, frames
from relations.consent.values import Quote, Sitter
from relations.pictures.models import Appearance, Caption, Picture, PictureHold
from relations.pictures.values import Recognisable
from tests.consent.register import AT, EVER, Register, user
from tests.rows import make

pytestmark = pytest.mark.django_db


@pytest.fixture
def picture():
    return make(Picture, code="K1")


@pytest.fixture
def register():
    return Register(user())


def only(chosen=None):
    (found,) = frames(Picture.objects.filter(code="K1"), chosen or {}).pictures
    return found


def caption(picture, version, hour, *quotes):
    row = Caption.objects.create(
        picture=picture, version=version, words=f"words of {version}", written_at=AT + hour
    )
    row.quotes.set(quotes)
    return row


HOUR = timedelta(hours=1)


def test_sitters_stand_from_left_to_right(picture):
    for place, how in ((2, "no"), (1, "unsure")):
        make(Appearance, picture=picture, place=place, recognisable=how)
    right, left = (one.person.code for one in picture.appearances.order_by("-place"))
    assert only().sitters == (Sitter(left, Recognisable.UNSURE), Sitter(right, Recognisable.NO))


def test_newest_words_stand_with_their_own_quotes(picture, register):
    old, new = (register.quote(code, "01") for code in ("q1", "q2"))
    caption(picture, "c2", HOUR, new)
    caption(picture, "c1", 0 * HOUR, old)
    found = only()
    assert (found.caption, found.words) == ("K1/c2", "words of c2")
    assert found.quotes == (Quote("q2", "01"),)


def test_words_of_one_hour_stand_by_their_version(picture):
    caption(picture, "c1", HOUR)
    caption(picture, "c2", HOUR)
    assert only().caption == "K1/c2"


def test_words_that_were_chosen_stand_before_newer_ones(picture, register):
    quote = register.quote("q1", "01")
    caption(picture, "c1", 0 * HOUR, quote)
    caption(picture, "c2", HOUR)
    found = only({"K1": Words("c1", "words of c1")})
    assert (found.caption, found.words) == ("K1/c1", "words of c1")
    assert found.quotes == (Quote("q1", "01"),)
    none = only({"K1": None})
    assert (none.caption, none.words, none.quotes) == (None, "", ())


def test_picture_without_words_has_none(picture):
    found = only()
    assert (found.caption, found.words, found.quotes, found.sitters) == (None, "", (), ())


def test_hold_lies_until_it_is_lifted(picture):
    make(PictureHold, picture=picture, next_look_on=EVER)
    assert (only().is_on_hold, only().next_look_on) == (True, EVER)
    PictureHold.objects.update(lifted_at=AT, lifted_by=user(name="x"), sentence="looked")
    assert (only().is_on_hold, only().next_look_on) == (False, None)


def test_two_queries_give_everything(picture, django_assert_num_queries):
    with django_assert_num_queries(2):
        assert frames(Picture.objects.all(), {}).people == set()
