"""The register knows of each travelling set: one out at a time, home once, ended by an alarm."""

from uuid import uuid4

import pytest

from relations.meetings import travelling
from relations.meetings.models import TravellingSet, Trip
from relations.meetings.values import SetEnd
from relations.privacy.models import AccessEntry
from relations.privacy.refused import Refused
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db
AT = cast.moment()


def made(trip=None, user=None):
    trip = trip or make(Trip, first_day=cast.TODAY, last_day=cast.days(3))
    user = user or cast.assistant()
    return travelling.make(trip=trip, made_for=user, secret="random", at=AT)


def test_set_is_noted_with_its_last_day_and_leaves_a_line():
    row = made()
    assert (row.last_day, row.secret, row.ended_how) == (cast.days(3), "random", "")
    assert AccessEntry.objects.filter(verb="made_set", key=row.pk).count() == 1
    assert list(travelling.out()) == [row] == list(travelling.of_trip(row.trip))


def test_one_set_of_a_trip_is_out_for_one_user():
    row = made()
    with pytest.raises(Refused, match="set_is_out"):
        made(row.trip)
    made(row.trip, cast.second_assistant())
    made()
    travelling.come_home(row=row, at=AT)
    made(row.trip)


@pytest.mark.parametrize(("last", "is_over"), [(0, False), (-1, True)])
def test_set_of_a_trip_that_is_over_is_refused_and_on_its_last_day_it_is_not(last, is_over):
    trip = make(Trip, first_day=cast.days(-9), last_day=cast.days(last))
    if is_over:
        with pytest.raises(Refused, match="trip_over"):
            made(trip)
    else:
        assert made(trip).last_day == cast.TODAY


def test_alarm_ends_every_set_that_is_out_and_no_other():
    home, given_up, out = made(), made(), made()
    travelling.come_home(row=home, at=AT)
    assert travelling.end_all(at=AT, how=SetEnd.GIVEN_UP, pk=given_up.pk) == 1
    assert travelling.end_all(at=cast.moment(hour=10)) == 1
    ended = TravellingSet.objects.in_bulk()
    assert [ended[row.pk].ended_how for row in (home, given_up, out)] == ["", "given_up", "alarm"]
    assert list(travelling.ended_by_alarm(cast.moment(hour=10))) == [out]
    assert not travelling.ended_by_alarm(AT).exists()
    assert (ended[given_up.pk].ended_at, ended[out.pk].ended_at) == (AT, cast.moment(hour=10))


def test_it_comes_home_once_and_then_nothing_opens_it():
    row = made()
    travelling.come_home(row=row, at=AT)
    travelling.come_home(row=row, at=cast.moment(hour=11))
    row.refresh_from_db()
    assert (row.came_home_at, row.secret) == (AT, "")
    assert AccessEntry.objects.filter(verb="set_came_home", key=row.pk).count() == 1


def test_it_is_found_by_its_key_or_not_at_all():
    row = made()
    assert travelling.found(row.pk) == row
    assert travelling.found(uuid4()) is None
