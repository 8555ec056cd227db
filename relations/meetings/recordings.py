"""What is written about interviews and their recordings, from the leave to the last day."""

from datetime import date, datetime, timedelta

from django.db import transaction

from relations.people import actions as people
from relations.people.models import Participant
from relations.privacy.files import scans
from relations.privacy.models import User
from relations.privacy.refused import Refused

from .models import Interview, Recording
from .rules import destroy_on as last_day_of

HOW_ARE_YOU = timedelta(days=7)


@transaction.atomic
def add_interview(
    *, person: Participant, held_on: date, may_record: bool, by: User, is_heavy: bool = False
) -> Interview:
    """Note a talk that may be quoted from; after a heavy one they are rung within 7 days."""
    due = held_on + HOW_ARE_YOU if is_heavy else None
    return Interview.objects.create(
        person=person, held_on=held_on, may_record=may_record, how_are_you_due_on=due
    )


@transaction.atomic
def note_how_are_you(*, interview: Interview, by: User, on: date) -> Interview:
    """Note that they were asked how they are after a heavy talk. Refused: not_yet, done_before."""
    _open_is(interview.how_are_you_on)
    if on < interview.held_on:
        raise Refused("not_yet")
    interview.how_are_you_on = on
    interview.save(update_fields=["how_are_you_on"])
    people.note_talk(person=interview.person, on=on)
    return interview


@transaction.atomic
def add_recording(
    *,
    code: str,
    by: User,
    on: date,
    interview: Interview | None = None,
    destroy_on: date | None = None,
    off_the_phone_on: date | None = None,
    made_at: datetime | None = None,
) -> Recording:
    """Note a recording and the day on which it is destroyed: theirs, else a year from `on`.

    `made_at`: the moment from which it lies on the phone; None where it never did.
    Refused: code_taken, may_not_record, backwards.
    """
    if Recording.objects.filter(code=code).exists():
        raise Refused("code_taken")
    if interview is not None and not interview.may_record:
        raise Refused("may_not_record")
    last = destroy_on or last_day_of(on)
    if last < on:
        raise Refused("backwards")
    return Recording.objects.create(
        code=code,
        interview=interview,
        destroy_on=last,
        day_is_theirs=destroy_on is not None,
        off_the_phone_on=off_the_phone_on,
        made_at=made_at,
    )


@transaction.atomic
def note_off_the_phone(*, recording: Recording, by: User, on: date) -> Recording:
    """Note that a recording lies on no phone any more. Refused: done_before."""
    _open_is(recording.off_the_phone_on)
    recording.off_the_phone_on = on
    recording.save(update_fields=["off_the_phone_on"])
    return recording


@transaction.atomic
def note_transcript(*, recording: Recording, by: User, on: date) -> Recording:
    """Note that the transcript is made, with the names in it replaced.

    Where they chose no day, the recording is destroyed twelve months from now.
    Refused: done_before.
    """
    _open_is(recording.destroyed_on or recording.transcribed_on)
    recording.transcribed_on = on
    if not recording.day_is_theirs:
        recording.destroy_on = last_day_of(on)
    recording.save(update_fields=["transcribed_on", "destroy_on"])
    return recording


@transaction.atomic
def choose_day(*, recording: Recording, destroy_on: date, by: User, on: date) -> Recording:
    """Note the day that they chose for the end of a recording. Refused: backwards, done_before."""
    _open_is(recording.destroyed_on)
    if destroy_on < on:
        raise Refused("backwards")
    recording.destroy_on, recording.day_is_theirs = destroy_on, True
    recording.save(update_fields=["destroy_on", "day_is_theirs"])
    return recording


@transaction.atomic
def destroy(*, recording: Recording, by: User, on: date) -> Recording:
    """Note that a recording is destroyed; a sealed file of it goes with this.

    Its code stays, so that the balance of a trip comes out. Refused: done_before.
    """
    _open_is(recording.destroyed_on)
    if name := recording.file:
        transaction.on_commit(lambda: scans().delete(name))
    recording.file, recording.destroyed_on = "", on
    recording.save(update_fields=["file", "destroyed_on"])
    return recording


def _open_is(done_on: date | None) -> None:
    if done_on is not None:
        raise Refused("done_before")
