"""Interviews and recordings: leave first, off the phone, a last day, and nothing of the words."""

from datetime import date

import pytest

from relations.meetings import recordings
from relations.privacy.files import scans
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db


def refusal(act, /, **given):
    with pytest.raises(Refused) as caught:
        act(by=cast.artist(), **given)
    return caught.value.codes


def talk(**given):
    known = {"person": cast.danuta(), "held_on": cast.TODAY, "may_record": True}
    return recordings.add_interview(by=cast.artist(), **{**known, **given})


def recorded(**given):
    known = {"code": "R-1", "on": cast.TODAY, "made_at": cast.moment(), "interview": talk()}
    return recordings.add_recording(by=cast.artist(), **{**known, **given})


def test_heavy_talk_is_followed_by_a_ring_within_seven_days() -> None:
    assert talk().how_are_you_due_on is None
    heavy = talk(is_heavy=True)
    assert heavy.how_are_you_due_on == cast.days(7)
    assert refusal(recordings.note_how_are_you, interview=heavy, on=cast.days(-1)) == ("not_yet",)
    recordings.note_how_are_you(interview=heavy, by=cast.artist(), on=cast.days(2))
    heavy.refresh_from_db()
    assert (heavy.how_are_you_on, heavy.person.last_talk_on) == (cast.days(2), cast.days(2))
    again = refusal(recordings.note_how_are_you, interview=heavy, on=cast.days(3))
    assert again == ("done_before",)


def test_recording_needs_leave_a_code_of_its_own_and_a_day_to_come() -> None:
    given = {"on": cast.TODAY, "code": "R-2"}
    no = talk(may_record=False)
    assert refusal(recordings.add_recording, interview=no, **given) == ("may_not_record",)
    recorded(code="R-2")
    assert refusal(recordings.add_recording, **given) == ("code_taken",)
    past = {"on": cast.TODAY, "code": "R-3", "destroy_on": cast.days(-1)}
    assert refusal(recordings.add_recording, **past) == ("backwards",)


def test_day_they_chose_stands_and_no_transcript_puts_it_off() -> None:
    kept = recorded(destroy_on=cast.days(30))
    recordings.note_transcript(recording=kept, by=cast.artist(), on=cast.days(10))
    kept.refresh_from_db()
    assert (kept.destroy_on, kept.day_is_theirs) == (cast.days(30), True)


def test_without_a_day_it_is_twelve_months_after_the_transcript() -> None:
    kept = recorded()
    assert (kept.destroy_on, kept.day_is_theirs) == (date(2027, 11, 23), False)
    recordings.note_transcript(recording=kept, by=cast.artist(), on=date(2026, 12, 31))
    assert kept.destroy_on == date(2027, 12, 31)
    twice = refusal(recordings.note_transcript, recording=kept, on=date(2027, 1, 1))
    assert twice == ("done_before",)


def test_they_may_choose_another_day_at_any_time() -> None:
    kept = recorded()
    recordings.choose_day(recording=kept, destroy_on=cast.days(3), by=cast.artist(), on=cast.TODAY)
    kept.refresh_from_db()
    assert (kept.destroy_on, kept.day_is_theirs) == (cast.days(3), True)
    past = {"recording": kept, "destroy_on": cast.days(-1), "on": cast.TODAY}
    assert refusal(recordings.choose_day, **past) == ("backwards",)


def test_recording_leaves_the_phone_once() -> None:
    kept = recordings.note_off_the_phone(recording=recorded(), by=cast.artist(), on=cast.TODAY)
    assert kept.off_the_phone_on == cast.TODAY
    given = {"recording": kept, "on": cast.TODAY}
    assert refusal(recordings.note_off_the_phone, **given) == ("done_before",)


def test_destroyed_recording_keeps_its_code_and_no_file(django_capture_on_commit_callbacks) -> None:
    kept = recorded()
    kept.file = scans().save(b"an invented voice")
    kept.save()
    name = kept.file
    with django_capture_on_commit_callbacks(execute=True):
        recordings.destroy(recording=kept, by=cast.artist(), on=cast.TODAY)
    kept.refresh_from_db()
    assert (kept.code, kept.file, kept.destroyed_on) == ("R-1", "", cast.TODAY)
    assert not scans().exists(name)
    for act, rest in (
        (recordings.destroy, {}),
        (recordings.note_transcript, {}),
        (recordings.choose_day, {"destroy_on": cast.days(9)}),
    ):
        assert refusal(act, recording=kept, on=cast.TODAY, **rest) == ("done_before",)


def test_recording_without_a_file_is_destroyed_as_well() -> None:
    kept = recordings.destroy(recording=recorded(), by=cast.artist(), on=cast.TODAY)
    assert kept.destroyed_on == cast.TODAY
