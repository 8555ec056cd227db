"""What the count of what went out and came home refuses."""

import pytest

from relations.meetings.models import Trip
from relations.trips.models import Count
from tests.constraints import cases, constraints_of, fate, links, links_of, once_in, refused_by
from tests.rows import make, twice

pytestmark = pytest.mark.django_db

NEVER = [("count_once", lambda: twice(Count, trip=make(Trip)))]
MAY = [
    ("count_once", lambda: twice(Count)),
    ("count_once", lambda: [make(Count, how=how) for how in ("printed", "spoilt")]),
]
LINKS = links(gone="Count.trip")


@pytest.mark.parametrize(("name", "attempt"), cases(NEVER))
def test_database_refuses_what_cannot_be(name, attempt):
    with refused_by("trips", name):
        attempt()


@pytest.mark.parametrize(("name", "attempt"), cases(MAY))
def test_database_takes_what_is_near_it_and_can_be(name, attempt):
    attempt()


@pytest.mark.parametrize(("link", "expected"), LINKS)
def test_row_whose_other_end_is_deleted(link, expected):
    assert fate("trips", link) == expected


def test_no_constraint_and_no_link_is_left_out():
    assert {name for name, _ in NEVER} == constraints_of("trips") | once_in("trips")
    assert {name for name, _ in MAY} == constraints_of("trips")
    assert {name for name, _ in LINKS} == links_of("trips")
