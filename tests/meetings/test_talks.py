"""What is due about talks: phones within a day, people within seven, recordings on their day."""

import pytest
from django.http import Http404

from relations.meetings import talks
from relations.meetings.models import Interview, Recording
from relations.meetings.talks import Due
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db


def test_recording_is_late_on_a_phone_after_a_day_to_the_minute() -> None:
    made = cast.moment(cast.days(-1), 9, 0)
    kept = make(Recording, code="R-1", made_at=made, destroy_on=cast.days(300))
    make(Recording, code="R-2", destroy_on=cast.days(300))
    [on_time] = talks.waiting(cast.TODAY, cast.moment(hour=9))
    assert (on_time.why, on_time.recording, on_time.is_late) == (Due.ON_A_PHONE, kept, False)
    [late] = talks.waiting(cast.TODAY, cast.moment(hour=9, minute=1))
    assert late.is_late
    kept.off_the_phone_on = cast.TODAY
    kept.save()
    assert talks.waiting(cast.TODAY, cast.moment()) == []


def test_recording_is_due_on_its_last_day_and_late_after_it() -> None:
    kept = make(Recording, code="R-1", destroy_on=cast.TODAY)
    [due] = talks.waiting(cast.TODAY, cast.moment())
    assert (due.why, due.is_late) == (Due.DESTROY, False)
    assert talks.waiting(cast.days(1), cast.moment())[0].is_late
    assert talks.waiting(cast.days(-1), cast.moment()) == []
    kept.destroyed_on = cast.TODAY
    kept.save()
    assert talks.waiting(cast.TODAY, cast.moment()) == []


def test_how_are_you_waits_from_the_talk_on_and_is_late_after_its_day() -> None:
    talk = make(Interview, how_are_you_due_on=cast.days(3))
    make(Interview)
    [waits] = talks.waiting(cast.TODAY, cast.moment())
    assert (waits.why, waits.interview, waits.is_late) == (Due.HOW_ARE_YOU, talk, False)
    assert talks.waiting(cast.days(4), cast.moment())[0].is_late
    talk.how_are_you_on = cast.TODAY
    talk.save()
    assert talks.waiting(cast.TODAY, cast.moment()) == []


def test_next_code_is_one_that_nobody_has() -> None:
    assert talks.next_code() == "R-1"
    make(Recording, code="R-1")
    make(Recording, code="R-3")
    assert talks.next_code() == "R-2"


def test_absent_is_not_found() -> None:
    talk = make(Interview)
    assert talks.interview(talk.pk) == talk
    for find in (talks.interview, talks.recording):
        with pytest.raises(Http404):
            find(cast.danuta().pk)
