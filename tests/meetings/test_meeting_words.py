"""Codes of the meetings room have words."""

from relations.meetings import words
from relations.meetings.models import CallKind, HelperKind
from relations.meetings.templatetags import meeting_words
from relations.meetings.values import (
    EXPLAINED,
    TOLD_BACK,
    MeetingState,
    Outcome,
    Part,
)


def test_every_code_has_its_word() -> None:
    for codes, filter_ in (
        (Outcome, meeting_words.outcome),
        (CallKind, meeting_words.call_kind),
        (MeetingState, meeting_words.meeting_state),
        (Part, meeting_words.part_of_day),
        (HelperKind, meeting_words.helper_kind),
        (EXPLAINED, meeting_words.explained),
        (TOLD_BACK, meeting_words.told_back),
        (words.PRESSES, meeting_words.meeting_press),
    ):
        assert all(str(filter_(code)) for code in codes)
        assert filter_("nowhere") == ""
