"""Meetings are seen with their person, and their place only near the day."""

from uuid import uuid4

import pytest
from django.http import Http404

from relations.meetings import access, actions
from relations.privacy.models import AccessEntry
from tests import cast

pytestmark = pytest.mark.django_db


def fixed(day=0):
    return actions.fix(
        person=cast.bruno(), at=cast.moment(cast.days(day), 15), place="behind the mole",
        by=cast.artist(), on=cast.TODAY, exit_signal="a cough",
    )  # fmt: skip


def test_meeting_out_of_sight_and_absent_meeting_are_the_same() -> None:
    meeting = fixed(9)
    assert access.meeting(cast.artist(), meeting.pk) == meeting
    with pytest.raises(Http404):
        access.meeting(cast.assistant(), meeting.pk)
    with pytest.raises(Http404):
        access.meeting(cast.artist(), uuid4())
    cast.in_sight(cast.bruno(), cast.assistant())
    assert access.meeting(cast.assistant(), meeting.pk) == meeting


def test_place_is_opened_near_the_day_and_noted() -> None:
    meeting = fixed(2)
    with pytest.raises(Http404):
        access.show_place(cast.assistant(), meeting, cast.TODAY)
    assert not AccessEntry.objects.exists()
    access.show_place(cast.artist(), meeting, cast.TODAY)
    access.show_place(cast.assistant(), meeting, cast.days(1))
    keys = AccessEntry.objects.values_list("verb", "kind", "key")
    assert list(keys) == [("read", "place", cast.bruno().log_key)] * 2


def test_place_of_a_meeting_without_a_day_is_for_the_artist() -> None:
    meeting = actions.propose(person=cast.bruno(), by=cast.artist(), on=cast.TODAY)
    assert access.may_see_place(cast.artist(), meeting, cast.TODAY)
    assert not access.may_see_place(cast.assistant(), meeting, cast.TODAY)
