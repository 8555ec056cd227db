"""A plan is read with the names and words of all its pictures, and of single ones."""

import pytest
from django.http import Http404

from relations.consent.frames import Words
from relations.consent.values import NameForm
from relations.people.models import Participant
from relations.pictures.models import Caption
from relations.privacy.refused import Refused
from relations.uses import actions, planned, queries
from relations.uses.models import NameShown
from tests import cast
from tests.uses import plans

pytestmark = pytest.mark.django_db


@pytest.fixture
def wall():
    plans.demo()
    return plans.plan("E1", "K38", "G01")


def asked(wall, code="K38"):
    return planned.asked_or_404(wall, code)


def word(row, captioned="", caption=None, by=None, **names):
    people = {Participant.objects.get(code=code[1:]): form for code, form in names.items()}
    by = by or plans.artist()
    return actions.word(asked=row, captioned=captioned, caption=caption, names=people, by=by)


def test_plan_of_which_nothing_is_said_apart_has_no_other(wall, django_assert_num_queries):
    with django_assert_num_queries(1):
        found = planned.planned(wall)
    assert (found.own, found.chosen) == ({}, {})
    assert found.plan.names["38"] == NameForm.FULL


def test_one_picture_names_a_sitter_otherwise_and_the_others_stay(wall):
    word(asked(wall, "G01"), _02="none")
    found = planned.planned(wall)
    assert set(found.own) == {"G01"}
    assert found.own["G01"].names == found.plan.names | {"02": NameForm.NONE}
    word(asked(wall, "G01"), _02="")
    assert planned.planned(wall).own == {}
    assert not NameShown.objects.exclude(picture=None).exists()


def test_one_picture_is_shown_without_words_or_with_older_ones(wall):
    older = Caption.objects.get(picture__code="K38", version="c1")
    word(asked(wall), "none", older)
    found = planned.planned(wall)
    assert not found.own["K38"].shows_captions
    assert found.chosen == {"K38": Words("c1", older.words)}
    word(asked(wall), "shown")
    found = planned.planned(wall)
    assert (found.own["K38"].shows_captions, found.chosen) == (True, {})


def test_words_agreed_to_are_weighed_in_that_picture_alone(wall):
    def stops():
        return {
            row.picture: {one.code for one in row.answer.stops}
            for row in queries.weighed(wall, plans.TODAY)
        }

    before = stops()
    assert "CAPTION" in before["K38"]
    word(asked(wall), caption=Caption.objects.get(picture__code="K38", version="c1"))
    assert stops() == {**before, "K38": before["K38"] - {"CAPTION"}}
    word(asked(wall), "none")
    assert "CAPTION" not in stops()["K38"]


def test_words_of_another_picture_and_the_hand_of_another_are_refused(wall):
    other = Caption.objects.filter(picture__code="G01").first()
    with pytest.raises(Refused, match="not_its_words"):
        word(asked(wall), caption=other)
    with pytest.raises(Refused, match="artist_only"):
        word(asked(wall), by=cast.assistant())


def test_picture_that_is_not_asked_for_is_not_there(wall):
    actions.leave_out(plan=wall, pictures=plans.pictures("K38"), by=plans.artist(), on=plans.TODAY)
    for code in ("K38", "K01", "nowhere"):
        with pytest.raises(Http404):
            asked(wall, code)


def test_sitters_stand_from_left_to_right_with_how_this_picture_names_them(wall):
    word(asked(wall, "G01"), _07="first")
    found = [(person.code, named) for person, named in planned.sitters_in(asked(wall, "G01"))]
    assert found == [("01", ""), ("02", ""), ("07", "first"), ("08", ""), ("09", "")]
