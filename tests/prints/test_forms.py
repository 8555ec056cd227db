"""A step asks for what belongs to it, and is refused in words beside the field."""

from uuid import uuid4

import pytest

from relations.prints.forms import PromiseForm, StepForm, WithoutPictureForm, asks
from relations.prints.rules import PrintState
from relations.privacy.refused import Refused
from tests import cast
from tests.prints.frames import made

pytestmark = pytest.mark.django_db
S = PrintState


def test_a_step_with_nothing_to_say_is_one_press():
    assert asks(S.ORDERED, S.AT_THE_LAB) == ()
    assert asks(S.IN_HAND, S.ACKNOWLEDGED) == ()
    assert asks(S.HANDED_ON, S.ACKNOWLEDGED) == ("word_from_sitter",)


def test_a_step_asks_only_for_its_own():
    form = StepForm(print=made(cast.danuta(), state="checked", is_safe=True), to=S.POSTED)
    assert set(form.fields) == {
        "was", "on", "token", "tracked", "plain_cover", "post_asked_for",
    }  # fmt: skip
    assert str(form.press) == "Posted"


def test_what_was_agreed_before_stands_in_the_form():
    row = made(cast.danuta(), is_safe=False, size="18 × 24 cm")
    form = StepForm(print=row, to=S.ASKED_HOW)
    assert (form["is_safe"].value(), form["size"].value()) == ("no", "18 × 24 cm")


def test_a_step_gives_what_was_said_as_the_action_takes_it():
    row = made(cast.danuta())
    said = {"token": str(uuid4()), "was": "owed", "on": "2026-11-20", "is_safe": "yes"}
    form = StepForm(said, print=row, to=S.ASKED_HOW)
    assert form.is_valid(), form.errors
    found = form.said()
    assert (found["is_safe"], found["is_sealed"], found["was"]) == (True, False, "owed")
    other = StepForm(said, print=row, to=S.NOTHING_TO_PRINT)
    assert other.is_valid()
    assert other.token != form.token


def test_a_refusal_stands_beside_its_field_and_all_stays_as_typed():
    row = made(cast.danuta(), state="checked")
    said = {"token": str(uuid4()), "was": "checked", "on": "2026-11-20", "tracked": "on"}
    form = StepForm(said, print=row, to=S.POSTED)
    assert form.is_valid()
    row.state = "posted"
    form.refuse(Refused("plain_cover", "moved_meanwhile"))
    assert "plain_cover" in form.errors
    assert form.non_field_errors()
    assert (form["was"].value(), form["tracked"].value()) == ("posted", True)


def test_a_person_out_of_sight_is_not_found():
    said = {"token": str(uuid4()), "code": "12", "kind": "sum", "on": "2026-11-20"}
    cast.danuta()
    assert "code" in PromiseForm(said, user=cast.assistant()).errors
    cast.in_sight(cast.danuta(), cast.assistant())
    form = PromiseForm(said, user=cast.assistant())
    assert form.is_valid()
    assert form.cleaned_data["code"] == cast.danuta()


def test_nothing_came_out_tomorrow():
    cast.danuta()
    said = {"token": str(uuid4()), "code": "12", "on": "2026-11-24"}
    assert "on" in WithoutPictureForm(said, user=cast.artist()).errors
