"""What may be typed on the page of introductions."""

import pytest

from relations.referrals.forms import GoalForm


def test_the_goal_is_a_number_of_people():
    assert GoalForm({"within": "12"}).goal == 12
    assert GoalForm({"within": "٦"}).goal == 6


@pytest.mark.parametrize("typed", ["", "many", "-1", "1000"])
def test_what_is_no_number_of_people_is_said_beside_the_field_and_asks_nothing(typed):
    form = GoalForm({"within": typed})
    assert form.goal is None
    assert "within" in form.errors


def test_where_nothing_was_typed_nothing_is_asked_and_nothing_is_wrong():
    form = GoalForm(None)
    assert (form.goal, dict(form.errors)) == (None, {})
