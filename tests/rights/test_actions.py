"""An alarm ends every session of every assistant and lists whom it may touch."""

from datetime import timedelta

import pytest
from django.contrib.sessions.models import Session
from django.test import Client

from relations.meetings.models import TravellingSet
from relations.privacy.refused import Refused
from relations.rights import actions
from relations.rights.models import Alarm
from tests import cast
from tests.cast import days
from tests.rows import make

pytestmark = pytest.mark.django_db


def raised(by=None):
    return actions.raise_alarm(what="phone", by=by or cast.keeper(), at=cast.moment())


def test_every_session_of_every_assistant_ends_and_no_other():
    for user in (cast.artist(), cast.assistant(), cast.second_assistant(), cast.keeper()):
        cast.signed_in(Client(), user)
    alarm = raised()
    assert alarm.sessions_ended_at is not None
    left = {row.get_decoded()["_auth_user_id"] for row in Session.objects.all()}
    assert left == {str(cast.artist().pk), str(cast.keeper().pk)}


def test_a_session_of_nobody_is_left_alone():
    Session.objects.create(session_key="x", session_data="", expire_date=cast.moment())
    raised()
    assert Session.objects.count() == 1


def test_affected_is_who_was_in_sight_of_an_assistant_on_that_day_or_seven_before():
    cast.in_sight(cast.danuta(), cast.assistant())
    cast.in_sight(cast.danuta(), cast.second_assistant(), day=days(-1))
    cast.in_sight(cast.marcel(), cast.assistant(), day=days(-7))
    cast.in_sight(cast.bruno(), cast.assistant(), day=days(-8))
    cast.in_sight(cast.lucas(), cast.artist())
    cast.in_sight(cast.herve(), cast.assistant(), day=days(1))
    assert {one.code for one in raised().affected.all()} == {"12", "01"}


def test_every_travelling_set_that_is_out_is_ended():
    row = make(TravellingSet)
    raised()
    row.refresh_from_db()
    assert (row.ended_how, row.ended_at) == ("alarm", cast.moment())


def test_lost_blank_ends_no_travelling_set():
    row = make(TravellingSet)
    actions.raise_alarm(what="blank", by=cast.keeper(), at=cast.moment())
    row.refresh_from_db()
    assert row.ended_at is None


@pytest.mark.parametrize("who", [cast.artist, cast.assistant, cast.wording_reader, cast.keeper])
def test_anybody_may_tell(who):
    assert raised(who()).raised_by == who()


def test_what_is_lost_is_one_of_four_things():
    with pytest.raises(ValueError, match="hat"):
        actions.raise_alarm(what="hat", by=cast.artist(), at=cast.moment())
    assert not Alarm.objects.exists()


def test_an_alarm_is_closed_once_by_the_artist_or_the_keeper():
    alarm = raised()
    with pytest.raises(Refused, match="artist_or_keeper"):
        actions.close_alarm(alarm=alarm, by=cast.assistant(), on=days(0))
    with pytest.raises(Refused, match="before_it_was_known"):
        actions.close_alarm(alarm=alarm, by=cast.keeper(), on=days(-1))
    actions.close_alarm(alarm=alarm, by=cast.artist(), on=days(2))
    actions.close_alarm(alarm=alarm, by=cast.artist(), on=days(2) + timedelta(days=1))
    assert Alarm.objects.get().closed_on == days(2)


def test_lost_blank_bears_no_name_so_nobody_is_listed_and_no_session_ends():
    cast.in_sight(cast.danuta(), cast.assistant())
    cast.signed_in(Client(), cast.assistant())
    alarm = actions.raise_alarm(what="blank", by=cast.assistant(), at=cast.moment())
    assert (alarm.sessions_ended_at, alarm.affected.count(), alarm.closed_on) == (None, 0, None)
    assert Session.objects.count() == 1
