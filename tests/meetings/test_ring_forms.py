"""What is pressed on the ring card and behind it."""

from datetime import date
from uuid import uuid4

import pytest

from relations.meetings.models import Call
from relations.meetings.ring_forms import LaterForm, PlanForm, RingForm
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db


def filled(form, data, **rest):
    return form({"token": str(uuid4()), **data}, **rest)


def test_only_line_is_the_one_that_was_rung() -> None:
    daud = cast.daud()
    form = filled(RingForm, {"outcome": "no_answer"}, person=daud)
    assert form.is_valid()
    assert form.ring == {"by_them": False, "line": daud.lines.get(), "kind": "ring"}


def test_one_of_several_lines_is_chosen_by_its_place_and_not_its_digits() -> None:
    daud = cast.daud()
    second = cast.line(daud, "06 39 98 00 43")
    form = filled(RingForm, {"outcome": "no_answer"}, person=daud)
    assert form.is_valid()
    assert form.ring["line"] is None
    assert "39 98" not in str(form["line"])
    form = filled(RingForm, {"outcome": "no_answer", "line": str(second.pk)}, person=daud)
    assert form.is_valid()
    assert form.ring["line"] == second


def test_what_is_sent_to_one_who_is_only_written_to_is_a_message_and_their_ring_is_a_ring() -> None:
    daud = cast.daud()
    daud.text_only = True
    for by_them, kind in ((False, "message"), (True, "ring")):
        data = {"outcome": "no_answer", **({"by_them": "on"} if by_them else {})}
        form = filled(RingForm, data, person=daud)
        assert form.is_valid()
        assert form.ring["kind"] == kind


def test_later_and_never_are_no_single_press() -> None:
    for outcome in ("ring_later", "never_again", "nonsense"):
        assert not filled(RingForm, {"outcome": outcome}, person=cast.daud()).is_valid()


def test_named_hour_is_an_hour_of_the_person() -> None:
    daud = cast.daud()
    daud.lines.update(zone="Asia/Dhaka")
    form = filled(LaterForm, {"day": "2026-11-25", "hour": "10.30"}, person=daud)
    assert form.is_valid()
    assert form.asked_for["asked_for_at"].isoformat() == "2026-11-25T10:30:00+06:00"
    form = filled(LaterForm, {"day": "2026-11-25"}, person=daud)
    assert form.is_valid()
    assert form.asked_for == {"asked_for_on": date(2026, 11, 25)}


def test_rest_is_said_with_its_last_day() -> None:
    daud = cast.daud()
    for day in (-8, -6, -4, -2):
        Call.objects.create(
            person=daud, state="settled", outcome="thinking", by=cast.artist(),
            at=cast.moment(cast.days(day)),
        )  # fmt: skip
    form = filled(RingForm, {"outcome": "no_answer"}, person=daud)
    assert form.is_valid()
    form.refuse(Refused("rest"))
    assert "15 December 2026" in str(form.non_field_errors())
    form.refuse(Refused("on_hold"))
    assert "hold" in str(form.non_field_errors())


def test_ring_is_not_planned_for_a_day_that_is_past() -> None:
    assert list(filled(PlanForm, {"due_on": "2026-11-22"}).errors) == ["due_on"]
    assert filled(PlanForm, {"due_on": "2026-11-23"}).is_valid()
