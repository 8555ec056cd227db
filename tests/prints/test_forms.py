"""A step asks for what belongs to it, and is refused in words beside the field."""

from uuid import uuid4

import pytest

from relations.prints.forms import KeptForm, PromiseForm, StepForm, WithoutPictureForm, asks
from relations.prints.models import Promise
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
    said |= {"answer": "print", "reason": "fogged"}
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


def test_what_they_want_must_be_said_and_starts_at_kept_where_harm_may_come():
    row = made(cast.danuta())
    said = {"token": str(uuid4()), "was": "owed", "on": "2026-11-20"}
    assert "answer" in StepForm(said, print=row, to=S.ASKED_HOW).errors
    assert StepForm(print=row, to=S.ASKED_HOW)["answer"].value() == "print"
    row.not_at_the_lab = True
    assert StepForm(print=row, to=S.ASKED_HOW)["answer"].value() == "keep"


@pytest.mark.parametrize(
    ("amount", "currency", "found"),
    [
        ("12,50", "eur", ("12.50", "EUR")),
        ("12.50", "EUR", ("12.50", "EUR")),
        ("٤٠", "TND", ("40.00", "TND")),
        ("1,250.00", "EUR", ("1250.00", "EUR")),
        ("", "", ("None", "")),
    ],
)
def test_a_sum_is_typed_with_a_comma_or_a_point(amount, currency, found):
    cast.danuta()
    said = {"token": str(uuid4()), "code": "12", "kind": "sum", "on": "2026-11-20"}
    form = PromiseForm(said | {"amount": amount, "currency": currency}, user=cast.artist())
    assert form.is_valid(), form.errors
    assert (str(form.cleaned_data["amount"]), form.cleaned_data["currency"]) == found


@pytest.mark.parametrize(
    ("amount", "currency", "wrong"),
    [
        ("1,250", "EUR", "amount"),
        ("-4", "EUR", "amount"),
        ("0", "EUR", "amount"),
        ("4,505", "EUR", "amount"),
        ("4", "euros", "currency"),
        ("4", "€", "currency"),
    ],
)
def test_a_sum_that_cannot_be_is_refused_beside_its_field(amount, currency, wrong):
    cast.danuta()
    said = {"token": str(uuid4()), "code": "12", "kind": "sum", "on": "2026-11-20"}
    form = PromiseForm(said | {"amount": amount, "currency": currency}, user=cast.artist())
    assert wrong in form.errors


def test_a_press_that_says_no_day_is_of_today_and_an_invitation_asks_who_may_see():
    who = cast.danuta()
    copy = Promise(person=who, kind="book_copy", promised_on="2026-11-01")
    form = KeptForm({"token": str(uuid4())}, promise=copy)
    assert form.is_valid()
    assert form.said == {"on": cast.TODAY, "others_may_see": None}
    assert "others_may_see" not in form.fields
    seat = Promise(person=who, kind="invitation", promised_on="2026-11-01")
    said = {"token": str(uuid4()), "on": "2026-11-20", "others_may_see": "no"}
    form = KeptForm(said, promise=seat)
    assert form.is_valid()
    assert form.said == {"on": cast.days(-3), "others_may_see": False}


def test_nothing_came_out_tomorrow():
    cast.danuta()
    said = {"token": str(uuid4()), "code": "12", "on": "2026-11-24"}
    assert "on" in WithoutPictureForm(said, user=cast.artist()).errors
