"""What the register of sittings and pictures refuses."""

import pytest

from relations.documents.models import Sheet
from relations.people.models import Participant
from relations.pictures.models import (
    Appearance,
    Caption,
    FilmSheet,
    Picture,
    PictureHold,
    Quote,
    Sitting,
    Stranger,
)
from relations.privacy.models import User
from tests.constraints import cases, constraints_of, fate, links, links_of, once_in, refused_by
from tests.rows import AT, DAY, LATER, NEXT_DAY, come_back_in_order, make, twice

pytestmark = pytest.mark.django_db

LIFTED = {"lifted_at": AT, "sentence": "The talk was held."}


def crop_of_itself():
    picture = make(Picture)
    Picture.objects.filter(pk=picture.pk).update(crop_of=picture)


NEVER = [
    ("Sitting.code", lambda: twice(Sitting, code="S1")),
    ("film_sheet_once", lambda: twice(FilmSheet, sitting=make(Sitting))),
    ("Picture.code", lambda: twice(Picture, code="K01")),
    ("picture_crops_another", crop_of_itself),
    (
        "appearance_once",
        lambda: twice(Appearance, picture=make(Picture), person=make(Participant)),
    ),
    ("picturehold_lifted_by_whom_and_why", lambda: make(PictureHold, **LIFTED)),
    ("picturehold_lifted_by_whom_and_why", lambda: make(PictureHold, lifted_by=make(User))),
    (
        "picturehold_lifted_by_whom_and_why",
        lambda: make(PictureHold, lifted_at=AT, lifted_by=make(User)),
    ),
    ("picturehold_one_at_a_time", lambda: twice(PictureHold, picture=make(Picture))),
    ("stranger_once_a_place", lambda: twice(Stranger, picture=make(Picture))),
    ("stranger_says_yes_on_paper", lambda: make(Stranger, became="said_yes")),
    ("caption_version_once", lambda: twice(Caption, picture=make(Picture))),
    ("Quote.code", lambda: twice(Quote, code="Q1")),
]
MAY = [
    ("film_sheet_once", lambda: twice(FilmSheet)),
    ("picture_crops_another", lambda: make(Picture, crop_of=make(Picture))),
    ("appearance_once", lambda: twice(Appearance, picture=make(Picture))),
    ("appearance_once", lambda: twice(Appearance, person=make(Participant))),
    ("picturehold_lifted_by_whom_and_why", lambda: make(PictureHold)),
    (
        "picturehold_lifted_by_whom_and_why",
        lambda: make(PictureHold, lifted_by=make(User), **LIFTED),
    ),
    (
        "picturehold_one_at_a_time",
        lambda: twice(PictureHold, picture=make(Picture), lifted_by=make(User), **LIFTED),
    ),
    ("stranger_once_a_place", lambda: twice(Stranger)),
    ("stranger_says_yes_on_paper", lambda: make(Stranger, became="said_no")),
    ("stranger_says_yes_on_paper", lambda: make(Stranger, became="said_yes", paper=make(Sheet))),
    ("caption_version_once", lambda: twice(Caption)),
]
NEEDS = {"PictureHold.lifted_by": LIFTED}
LINKS = links(
    kept="Sitting.trip Picture.sitting Picture.crop_of Appearance.person PictureHold.laid_by "
    "PictureHold.lifted_by Quote.by Stranger.paper Stranger.noted_by",
    gone="FilmSheet.sitting Appearance.picture PictureHold.picture Caption.picture "
    "Stranger.picture",
    cut="Picture.sheet Quote.interview",
)


@pytest.mark.parametrize(("name", "attempt"), cases(NEVER))
def test_database_refuses_what_cannot_be(name, attempt):
    with refused_by("pictures", name):
        attempt()


@pytest.mark.parametrize(("name", "attempt"), cases(MAY))
def test_database_takes_what_is_near_it_and_can_be(name, attempt):
    attempt()


@pytest.mark.parametrize(("link", "expected"), LINKS)
def test_row_whose_other_end_is_deleted(link, expected):
    assert fate("pictures", link, **NEEDS.get(link, {})) == expected


def test_no_constraint_and_no_link_is_left_out():
    assert {name for name, _ in NEVER} == constraints_of("pictures") | once_in("pictures")
    assert {name for name, _ in MAY} == constraints_of("pictures")
    assert {name for name, _ in LINKS} == links_of("pictures")


@pytest.mark.parametrize(
    ("model", "first", "second"),
    [
        (Sitting, {"on": NEXT_DAY}, {"on": DAY}),
        (Sitting, {"code": "S1"}, {"code": "S2"}),
        (FilmSheet, {"number": 1}, {"number": 2}),
        (Picture, {"code": "K01"}, {"code": "K02"}),
        (Appearance, {"place": 1}, {"place": 2}),
        (Stranger, {"place": 1}, {"place": 2}),
        (Caption, {"version": "c1"}, {"version": "c0", "written_at": LATER}),
        (Caption, {"version": "c0"}, {"version": "c1"}),
    ],
)
def test_rows_come_back_in_their_order(model, first, second):
    assert come_back_in_order(model, first, second)


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (Sitting(code="S1"), "S1"),
        (Picture(code="K01", alt_text="a man at a gate"), "K01"),
        (Caption(version="c1", words="At the gate"), "c1"),
        (Quote(code="Q1", words="We were here first."), "Q1"),
    ],
)
def test_rows_are_called_by_their_codes(row, said):
    assert str(row) == said


def test_what_nobody_has_looked_at_is_not_settled():
    picture = make(Picture)
    assert (picture.others, picture.place_word) == ("unresolved", "none")
    assert make(Appearance, picture=picture).recognisable == "unsure"
