"""What the register of trips, rings and meetings refuses."""

from uuid import UUID

import pytest

from relations.documents.models import Sheet
from relations.meetings.models import (
    Call,
    DayLine,
    Helper,
    Interview,
    Meeting,
    Recording,
    TravellingSet,
    Trip,
)
from relations.meetings.values import CallState, MeetingState
from relations.privacy.models import User
from tests.constraints import cases, constraints_of, fate, links, links_of, once_in, refused_by
from tests.rows import AT, DAY, LATER, NEXT_DAY, come_back_in_order, make, twice

pytestmark = pytest.mark.django_db

FIXED = [
    state
    for state in MeetingState
    if state not in {MeetingState.PROPOSED, MeetingState.MOVED, MeetingState.CALLED_OFF}
]
NOBODY = {"person": None, "about": None}
ABOUT = {"about": UUID(int=9)}
WRITTEN = {"state": "written_up", "at": AT}


def two_sets(**more):
    """Two sets of one trip, made for one user."""
    return twice(TravellingSet, trip=make(Trip), made_for=make(User), **more)


NEVER = [
    ("call_state_known", lambda: make(Call, state="liked")),
    ("meeting_state_known", lambda: make(Meeting, state="liked", at=AT)),
    ("Trip.code", lambda: twice(Trip, code="T7")),
    ("trip_ends_after_it_begins", lambda: make(Trip, first_day=NEXT_DAY, last_day=DAY)),
    ("trip_place_is_on_earth", lambda: make(Trip, latitude=91, longitude=5)),
    ("trip_place_is_on_earth", lambda: make(Trip, latitude=43, longitude=181)),
    ("trip_place_is_on_earth", lambda: make(Trip, latitude=43)),
    ("call_outcome_has_hour", lambda: make(Call, outcome="thinking")),
    ("call_outcome_has_hour", lambda: make(Call, outcome="thinking", at=AT)),
    ("call_outcome_has_hour", lambda: make(Call, outcome="thinking", by=make(User))),
    ("call_planned_has_day", lambda: make(Call, due_on=None)),
    ("meeting_fixed_has_hour", lambda: make(Meeting, state="fixed")),
    (
        "meeting_written_up_says_who_was_there",
        lambda: make(Meeting, **WRITTEN, written_up_at=AT),
    ),
    (
        "meeting_written_up_says_who_was_there",
        lambda: make(Meeting, **WRITTEN, power_present=False),
    ),
    ("Recording.code", lambda: twice(Recording, code="R1")),
    ("dayline_work_known", lambda: make(DayLine, work="dance", **ABOUT)),
    ("dayline_number_once", lambda: twice(DayLine, sheet=make(Sheet), number=4)),
    ("dayline_is_about_something", lambda: make(DayLine, work="ring", **NOBODY)),
    ("dayline_is_about_something", lambda: make(DayLine, work="stop", **ABOUT)),
    ("dayline_typed_by_somebody", lambda: make(DayLine, typed_at=AT)),
    ("travelling_set_ended_how", lambda: make(TravellingSet, ended_at=AT)),
    ("travelling_set_ended_how", lambda: make(TravellingSet, ended_how="alarm")),
    ("travelling_set_ended_how", lambda: make(TravellingSet, ended_at=AT, ended_how="tired")),
    (
        "travelling_set_home_after_it_was_made",
        lambda: make(TravellingSet, made_at=LATER, came_home_at=AT),
    ),
    ("travelling_set_one_out", lambda: two_sets()),
]
MAY = [
    ("call_state_known", lambda: make(Call, state="settled")),
    ("meeting_state_known", lambda: make(Meeting, state="held", at=AT)),
    ("trip_ends_after_it_begins", lambda: make(Trip, first_day=DAY, last_day=DAY)),
    ("trip_place_is_on_earth", lambda: make(Trip, latitude=-90, longitude=180)),
    ("trip_place_is_on_earth", lambda: make(Trip)),
    ("call_outcome_has_hour", lambda: make(Call, outcome="thinking", at=AT, by=make(User))),
    ("call_outcome_has_hour", lambda: make(Call, at=AT)),
    ("call_planned_has_day", lambda: make(Call, state=CallState.SETTLED, due_on=None)),
    ("dayline_work_known", lambda: make(DayLine, work="door", **ABOUT)),
    ("dayline_number_once", lambda: [make(DayLine, number=4) for _ in range(2)]),
    ("dayline_is_about_something", lambda: make(DayLine, work="stop", **NOBODY)),
    ("dayline_typed_by_somebody", lambda: make(DayLine, typed_at=AT, typed_by=make(User))),
    ("travelling_set_ended_how", lambda: make(TravellingSet, ended_at=AT, ended_how="alarm")),
    ("travelling_set_home_after_it_was_made", lambda: make(TravellingSet, came_home_at=AT)),
    ("travelling_set_one_out", lambda: two_sets(came_home_at=AT)),
    ("meeting_fixed_has_hour", lambda: make(Meeting, state="moved")),
    ("meeting_fixed_has_hour", lambda: make(Meeting, state="fixed", at=AT)),
    (
        "meeting_written_up_says_who_was_there",
        lambda: make(Meeting, **WRITTEN, written_up_at=AT, power_present=True),
    ),
]
LINKS = links(
    kept="Call.by Meeting.interpreter Meeting.witness Meeting.written_up_by "
    "DayLine.sheet DayLine.typed_by TravellingSet.trip TravellingSet.made_for",
    gone="Call.person Meeting.person Interview.person Recording.interview DayLine.person",
    cut="Call.line Meeting.trip",
)


@pytest.mark.parametrize(("name", "attempt"), cases(NEVER))
def test_database_refuses_what_cannot_be(name, attempt):
    with refused_by("meetings", name):
        attempt()


@pytest.mark.parametrize(("name", "attempt"), cases(MAY))
def test_database_takes_what_is_near_it_and_can_be(name, attempt):
    attempt()


@pytest.mark.parametrize(("link", "expected"), LINKS)
def test_row_whose_other_end_is_deleted(link, expected):
    assert fate("meetings", link) == expected


def test_no_constraint_and_no_link_is_left_out():
    assert {name for name, _ in NEVER} == constraints_of("meetings") | once_in("meetings")
    assert {name for name, _ in MAY} == constraints_of("meetings")
    assert {name for name, _ in LINKS} == links_of("meetings")


@pytest.mark.parametrize(
    ("model", "first", "second"),
    [
        (Trip, {"first_day": DAY}, {"first_day": NEXT_DAY, "last_day": NEXT_DAY}),
        (Call, {"at": LATER}, {"at": AT}),
        (Call, {"at": AT, "due_on": DAY}, {"at": AT, "due_on": NEXT_DAY}),
        (Helper, {"initials": "AB"}, {"initials": "LH"}),
        (Meeting, {"at": LATER}, {"at": AT}),
        (Interview, {"held_on": NEXT_DAY}, {"held_on": DAY}),
        (Recording, {"destroy_on": DAY}, {"destroy_on": NEXT_DAY}),
        (DayLine, {"number": 1}, {"number": 2}),
        (TravellingSet, {"made_at": LATER}, {"made_at": AT}),
    ],
)
def test_rows_come_back_in_their_order(model, first, second):
    assert come_back_in_order(model, first, second)


@pytest.mark.parametrize("state", FIXED)
def test_meeting_that_was_once_fixed_has_an_hour(state):
    with refused_by("meetings", "meeting_fixed_has_hour"):
        make(Meeting, state=state, written_up_at=AT, power_present=False)


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (Trip(code="T7"), "T7"),
        (Helper(initials="LH", name="Latifa"), "LH"),
        (Recording(code="R1"), "R1"),
    ],
)
def test_rows_are_called_by_what_says_nothing(row, said):
    assert str(row) == said


def test_nobody_is_recorded_who_has_not_said_so():
    assert not make(Interview).may_record
