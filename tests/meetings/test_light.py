"""The light of a trip and of a meeting: at the coarse place of the trip, or not at all."""

from decimal import Decimal

import pytest

from relations.meetings import light
from relations.meetings.models import Meeting, Trip
from tests import cast
from tests.rows import make

PORT = {"latitude": Decimal("43.3"), "longitude": Decimal("5.4")}
DAYS = {"first_day": cast.days(7), "last_day": cast.days(20)}


def test_each_day_of_a_trip_has_its_light() -> None:
    found = light.of_trip(Trip(code="T7", **DAYS, **PORT))
    assert [found[0].on, found[-1].on] == [cast.days(7), cast.days(20)]
    assert all(one.light.rise < one.light.set for one in found)
    assert all(one.sun is None for one in found)


def test_no_place_no_light_and_no_trip_has_more_than_sixty_days_of_it() -> None:
    assert light.of_trip(Trip(code="T7", **DAYS)) == []
    long = {"first_day": cast.days(0), "last_day": cast.days(400)}
    assert len(light.of_trip(Trip(code="T7", **long, **PORT))) == 60


@pytest.mark.django_db
def test_meeting_with_the_camera_says_where_the_sun_stands_at_its_hour() -> None:
    trip = make(Trip, **DAYS, **PORT)
    at = cast.moment(cast.days(8), 12, 22)
    meeting = make(Meeting, state="fixed", at=at, trip=trip, with_camera=True)
    found = light.of_meeting(meeting)
    assert (found.on, found.at) == (cast.days(8), at)
    assert abs(found.sun.azimuth - 180) < 5
    assert found.light.rise < at < found.light.set


@pytest.mark.django_db
@pytest.mark.parametrize("lacks", [{"with_camera": False}, {"trip": None}, {"at": None}])
def test_meeting_that_lacks_camera_trip_or_hour_has_no_light(lacks) -> None:
    trip = make(Trip, **DAYS, **PORT)
    given = {"at": cast.moment(), "trip": trip, "with_camera": True, **lacks}
    assert light.of_meeting(make(Meeting, **given)) is None


@pytest.mark.django_db
def test_meeting_of_a_trip_without_a_place_has_no_light() -> None:
    meeting = make(Meeting, at=cast.moment(), trip=make(Trip, **DAYS), with_camera=True)
    assert light.of_meeting(meeting) is None


@pytest.mark.django_db
def test_any_day_has_the_light_of_its_trip_or_of_the_last_one_with_a_place() -> None:
    assert light.of_day(cast.TODAY) is None
    make(Trip, **DAYS)
    assert light.of_day(cast.TODAY) is None
    make(Trip, first_day=cast.days(-400), last_day=cast.days(-390), **PORT)
    far = light.of_day(cast.TODAY)
    assert far is not None and far.rise and far.rise.date() == cast.TODAY
    north = {"latitude": Decimal("60.0"), "longitude": Decimal("5.4")}
    make(Trip, first_day=cast.TODAY, last_day=cast.TODAY, **north)
    here = light.of_day(cast.TODAY)
    assert here is not None and here.set < far.set, "further north the day is shorter"
