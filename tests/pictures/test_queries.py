"""What the pages of sittings and pictures are told."""

from string import ascii_uppercase

import pytest
from django.http import Http404

from relations.people.models import Participant
from relations.pictures import access, actions, queries
from relations.pictures.models import Picture, Sitting
from tests import cast
from tests.pictures.test_actions import NOW, add, sit
from tests.rows import make

pytestmark = pytest.mark.django_db


def test_people_out_of_sight_are_told_apart() -> None:
    marcel, danuta = cast.marcel(), cast.danuta()
    picture = add(sit(danuta, marcel), (danuta, 2, "yes"), (marcel, 1, "no"))
    marcel.in_sight.all().delete()
    seen = queries.in_frame(cast.assistant(), picture)
    assert [(one.person.code, one.is_in_sight) for one in seen] == [("01", False), ("12", True)]
    told = queries.sitters(cast.artist(), picture.sitting)
    assert told == [(marcel, True), (danuta, True)]


def test_sittings_come_with_their_counts() -> None:
    sitting = sit()
    add(sitting)
    actions.lose_sheets(sitting=sitting, numbers=[1], by=cast.artist(), on=cast.TODAY)
    (row,) = queries.with_counts(access.sittings(cast.artist()))
    assert (row.sheet_count, row.lost_count, row.picture_count) == (4, 1, 1)


def test_hold_shows_in_the_list_until_it_is_lifted() -> None:
    picture = add(sit())
    with pytest.raises(Http404):
        queries.hold_or_404(picture)
    laid = actions.hold(picture=picture, by=cast.artist(), at=NOW)
    assert queries.hold_or_404(picture) == laid
    assert queries.pictures_of(picture.sitting)[0].has_hold
    actions.lift(hold=laid, sentence="A slip.", by=cast.artist(), at=NOW)
    assert not queries.pictures_of(picture.sitting)[0].has_hold


def test_light_copy_that_is_not_there_is_absent() -> None:
    with pytest.raises(Http404):
        queries.light_copy(add(sit()))


def test_next_sitting_has_a_code_that_is_free() -> None:
    danuta = cast.danuta()
    assert queries.next_sitting_code(danuta, "T7") == "12-T7"
    sit(danuta)
    assert queries.next_sitting_code(danuta, "T7") == "12-2"
    assert queries.next_sitting_code(danuta, "") == "12-1"


def test_next_sitting_of_a_long_code_is_free_too() -> None:
    person = make(Participant, code="ABCDEFGH")
    assert queries.next_sitting_code(person, "SPRING27") == "ABCDEFGH-SPR"
    make(Sitting, code="ABCDEFGH-SPR")
    assert queries.next_sitting_code(person, "SPRING28") == "ABCDEFGH-2"


def test_a_picture_has_a_code_for_one_more_crop_than_there_are_letters() -> None:
    whole = make(Picture, code="K01")
    assert queries.next_crop_code(whole) == "K01A"
    for sign in ascii_uppercase:
        make(Picture, code=f"K01{sign}")
    assert queries.next_crop_code(whole) == "K01AA"
