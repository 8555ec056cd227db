"""What is typed about talks: not said is no, and where a recording lies."""

from uuid import uuid4

import pytest

from relations.meetings.recording_forms import InterviewForm, RecordingForm
from tests import cast


def filled(form, **given):
    found = form({"token": str(uuid4()), **given})
    assert found.is_valid(), found.errors
    return found


@pytest.mark.parametrize(("said", "is_yes"), [("yes", True), ("no", False), ("not_said", False)])
def test_only_a_yes_lets_a_talk_be_recorded(said, is_yes) -> None:
    held = filled(InterviewForm, held_on="2026-11-20", may_record=said).held
    assert held == {"held_on": cast.days(-3), "is_heavy": False, "may_record": is_yes}


def test_whether_it_may_be_recorded_has_to_be_answered() -> None:
    form = InterviewForm({"token": str(uuid4()), "held_on": "2026-11-20"})
    assert list(form.errors) == ["may_record"]


def test_recording_lies_on_a_phone_from_its_hour_only_where_that_is_ticked() -> None:
    given = {"code": "r-1", "made_on": "2026-11-22", "made_hour": "15:30"}
    assert filled(RecordingForm, **given).made == {
        "code": "R-1", "destroy_on": None, "on": cast.days(-1), "made_at": None,
    }  # fmt: skip
    made = filled(RecordingForm, is_on_a_phone="on", **given).made
    assert made["made_at"] == cast.moment(cast.days(-1), 15, 30)
