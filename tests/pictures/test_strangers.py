"""Who is in a frame without having sat is noted by place, and one who said no keeps it off."""

import pytest

from relations.documents.models import Scan, Sheet
from relations.pictures import actions
from relations.privacy.models import Mending
from tests import cast
from tests.pictures.test_actions import NOW, add, refusal, sit
from tests.rows import make

pytestmark = pytest.mark.django_db


def settle(picture, place, became, by=cast.assistant, **rest):
    said = {"picture": picture, "place": place, "became": became, "on": cast.TODAY}
    return actions.settle(**said, by=by(), at=NOW, **rest)


def test_picture_follows_from_what_became_of_everybody_in_it() -> None:
    picture = add(sit())
    settle(picture, 2, "not_asked")
    assert picture.others == "unresolved"
    paper = make(Scan).sheet
    said = settle(picture, 2, "said_yes", serial=paper.serial)
    assert (said.paper, said.noted_by, picture.others) == (paper, cast.assistant(), "settled")
    settle(picture, 3, "said_no")
    assert picture.others == "unresolved"
    settle(picture, 3, "not_recognisable")
    settle(picture, 2, "not_recognisable", serial=paper.serial)
    assert [one.paper for one in picture.strangers.all()] == [None, None]
    picture.refresh_from_db()
    assert picture.others == "none"
    olds = Mending.objects.filter(kind="pictures.picture").order_by("at")
    assert len(olds) == 5
    assert {row.about for row in olds} == {cast.danuta().log_key}


def test_second_who_was_not_asked_changes_nothing_of_the_picture() -> None:
    picture = add(sit())
    settle(picture, 2, "not_asked")
    olds = Mending.objects.filter(kind="pictures.picture").count()
    settle(picture, 3, "not_asked")
    assert Mending.objects.filter(kind="pictures.picture").count() == olds
    assert (picture.others, picture.strangers.count()) == ("unresolved", 2)


def test_yes_without_a_paper_that_we_know_is_none() -> None:
    picture = add(sit())
    assert refusal(settle, picture, 2, "said_yes") == ("no_paper",)
    assert refusal(settle, picture, 2, "said_yes", serial="10012-34") == ("no_paper",)
    unfiled, card = make(Sheet), make(Scan, sheet=make(Sheet, kind="stop_card")).sheet
    for paper in (unfiled, card):
        assert refusal(settle, picture, 2, "said_yes", serial=paper.serial) == ("no_paper",)
    assert not picture.strangers.exists()


def test_place_of_a_sitter_and_a_picture_of_somebody_erased_are_refused() -> None:
    picture = add(sit())
    assert refusal(settle, picture, 1, "not_asked") == ("sitter_there",)
    gone = add(picture.sitting, code="K13", others="erased")
    assert refusal(settle, gone, 2, "not_asked") == ("erased",)


def test_crop_holds_nobody_whom_the_whole_does_not_hold() -> None:
    danuta, marcel = cast.danuta(), cast.marcel()
    whole = add(sit(danuta, marcel), (danuta, 1, "yes"))
    frame = [(danuta, 1, "yes"), (marcel, 2, "no")]
    assert refusal(add, whole.sitting, *frame, code="K12a", crop_of=whole) == ("not_in_whole",)
