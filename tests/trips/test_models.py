"""What days, counts and named blanks of a trip the database refuses."""

import pytest

from relations.consent.models import Form
from relations.meetings.models import Trip
from relations.privacy.models import User
from relations.rights.models import Alarm
from relations.trips.models import Count, Day, MissingBlank, Stay
from tests.constraints import (
    cases,
    constraints_of,
    fate,
    links,
    links_of,
    once_in,
    refused_by,
)
from tests.rows import DAY, NEXT_DAY, come_back_in_order, make, twice

pytestmark = pytest.mark.django_db


def closed(**more):
    return make(Stay, closed_on=DAY, **more)


NEVER = [
    ("count_once", lambda: twice(Count, trip=make(Trip))),
    ("count_thing_known", lambda: make(Count, thing="time")),
    ("trip_day_once", lambda: twice(Day, trip=make(Trip))),
    ("missing_blank_once", lambda: twice(MissingBlank, form=make(Form), alarm=make(Alarm))),
    ("stay_closed_by_somebody", closed),
    ("Stay.trip", lambda: twice(Stay, trip=make(Trip))),
]
MAY = [
    ("count_once", lambda: [make(Count, how=how) for how in ("taken", "lost")]),
    ("count_thing_known", lambda: make(Count, thing="money")),
    ("trip_day_once", lambda: twice(Day)),
    ("missing_blank_once", lambda: twice(MissingBlank, alarm=make(Alarm))),
    ("stay_closed_by_somebody", lambda: closed(closed_by=make(User))),
]
LINKS = links(
    gone="Count.trip Day.trip Stay.trip MissingBlank.form MissingBlank.alarm",
    kept="Stay.closed_by",
)


@pytest.mark.parametrize(("name", "attempt"), cases(NEVER))
def test_database_refuses_what_cannot_be(name, attempt):
    with refused_by("trips", name):
        attempt()


@pytest.mark.parametrize(("name", "attempt"), cases(MAY))
def test_database_takes_what_is_near_it_and_can_be(name, attempt):
    attempt()


@pytest.mark.parametrize(("link", "expected"), LINKS)
def test_row_whose_other_end_is_deleted(link, expected):
    given = {"closed_on": DAY} if link == "Stay.closed_by" else {}
    assert fate("trips", link, **given) == expected


def test_no_constraint_and_no_link_is_left_out():
    assert {name for name, _ in NEVER} == constraints_of("trips") | once_in("trips")
    assert {name for name, _ in MAY} == constraints_of("trips")
    assert {name for name, _ in LINKS} == links_of("trips")


def test_days_come_back_in_their_order():
    assert come_back_in_order(Day, {"on": DAY}, {"on": NEXT_DAY})
