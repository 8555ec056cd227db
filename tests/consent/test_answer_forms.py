"""What is chosen where readings differ, and what is noted after a form."""

from uuid import uuid4

import pytest

from relations.consent import pages
from relations.consent.answer_forms import AnswersForm, GuardianForm, SettleForm
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db


def post(**said):
    return {"token": str(uuid4()), **said}


BOXES = [
    ("uses.web", "Web", [(True, "yes"), (False, "no")]),
    ("only_countries", "Only in", [(["FR"], "France"), (["BE"], "Belgium"), (None, "no limit")]),
]


def test_chosen_answers_come_out_by_box():
    form = SettleForm(post(box_1="1", box_2="2"), user=cast.artist(), boxes=BOXES)
    assert form.is_valid(), form.errors
    assert form.answers == {"uses.web": False, "only_countries": None}


def test_every_box_that_differs_is_chosen():
    assert "box_2" in SettleForm(post(box_1="1"), user=cast.artist(), boxes=BOXES).errors
    wrong = SettleForm(post(box_1="1", box_2="3"), user=cast.artist(), boxes=BOXES)
    assert "box_2" in wrong.errors


def test_guardian_is_named_by_their_right_and_a_grandparent_has_none():
    said = {"authority": "parent", "is_yes": "no", "on": "2026-11-23"}
    form = GuardianForm(post(**said), user=cast.artist())
    assert form.is_valid(), form.errors
    assert form.cleaned_data["is_yes"] is False
    other = GuardianForm(post(**said | {"authority": "grandparent"}), user=cast.artist())
    assert "authority" in other.errors
    late = GuardianForm(post(**said | {"on": "2026-11-24"}), user=cast.artist())
    assert "on" in late.errors


@pytest.fixture
def shown():
    made = desk.sitting("12/T2", cast.danuta())
    picture = desk.picture("K12", made, cast.danuta())
    words, said = desk.caption(picture), desk.quote("q1", cast.danuta())
    form = desk.filed(70_051, wording_was_read=False, is_from_before=True)
    return desk.read_twice(form, desk.WHOLE | {"own_condition": "x"}), picture, words, said


def answers(paper, **said):
    return AnswersForm(
        post(on="2026-11-23", **said),
        user=cast.artist(),
        paper=paper,
        open_=pages.open_answers(paper),
    )


def test_all_that_was_said_comes_out_as_the_action_takes_it(shown):
    paper, picture, words, said = shown
    form = answers(
        paper,
        sittings=[str(picture.sitting.pk)],
        condition_book="cannot",
        wording_was_read="on",
        **{f"picture_{picture.pk}": "no", f"caption_{words.pk}": "on", f"quote_{said.pk}": "on"},
    )
    assert form.is_valid(), form.errors
    assert form.said() == {
        "sittings": [picture.sitting],
        "pictures": {picture: False},
        "captions": [words],
        "quotes": [said],
        "child": None,
        "conditions": {"book": False},
        "wording_was_read": True,
    }


def test_what_was_not_said_is_left_out(shown):
    paper, picture, *_ = shown
    form = answers(paper, **{f"picture_{picture.pk}": "not_said"})
    assert form.is_valid(), form.errors
    assert form.said()["pictures"] == {} and form.said()["conditions"] == {}
    assert form.said()["captions"] == [] and form.said()["quotes"] == []


def test_groups_are_those_that_have_something_in_them(shown):
    paper, *_ = shown
    legends = [str(group.legend) for group in answers(paper).groups()[2:]]
    assert len(legends) == 4
    plain = desk.standing(70_052, cast.bruno())
    assert answers(plain).groups() == ["on", "sittings"]
    child = desk.standing(70_053, cast.lucas())
    assert "childs_answer" in answers(child).fields


def test_day_that_has_not_come_is_refused(shown):
    paper, *_ = shown
    form = AnswersForm(
        post(on="2026-11-24"),
        user=cast.artist(),
        paper=paper,
        open_=pages.open_answers(paper),
    )
    assert "on" in form.errors
