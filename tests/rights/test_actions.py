"""An alarm ends every session and lists whom it may touch; they are told, then it is closed."""

from datetime import timedelta
from time import monotonic

import pytest
from django.contrib.sessions.models import Session
from django.test import Client
from django.utils import timezone

from relations.meetings.models import TravellingSet
from relations.privacy.models import AccessEntry
from relations.privacy.refused import Refused
from relations.rights import actions
from relations.rights.models import Alarm
from tests import cast
from tests.cast import days
from tests.rows import make

pytestmark = pytest.mark.django_db
# The bar of the job, row 5 of what may go wrong: "sign-outs in 2 min".
IN_TIME = timedelta(minutes=2)


def raised(by=None):
    return actions.raise_alarm(what="phone", by=by or cast.keeper(), at=cast.moment())


def test_every_session_ends_whoevers_it_is():
    for user in cast.everyone():
        cast.signed_in(Client(), user)
    Session.objects.create(session_key="x", session_data="", expire_date=cast.moment())
    alarm = raised()
    assert not Session.objects.exists()
    assert alarm.known_at < alarm.sessions_ended_at < alarm.known_at + IN_TIME


def test_four_hundred_open_sessions_end_in_time():
    at = timezone.now() + timedelta(hours=1)
    rows = [Session(session_key=f"{n:032}", session_data="x", expire_date=at) for n in range(400)]
    Session.objects.bulk_create(rows)
    began = monotonic()
    alarm = raised()
    assert timedelta(seconds=monotonic() - began) < IN_TIME
    assert not Session.objects.exists()
    assert alarm.sessions_ended_at - alarm.known_at < IN_TIME


def test_it_is_logged_by_whom_and_of_what_alarm():
    alarm = raised(cast.assistant())
    entry = AccessEntry.objects.get(verb="raised")
    assert (entry.by, entry.kind, entry.key) == (cast.assistant().pk, "rights.alarm", alarm.pk)


def test_whom_it_may_touch_goes_by_what_was_lost():
    cast.in_sight(cast.danuta(), cast.assistant())
    assert {one.code for one in raised().affected.all()} == {"12"}
    papers = actions.raise_alarm(what="papers", by=cast.keeper(), at=cast.moment())
    assert not papers.affected.exists()


def touching(*people):
    alarm = raised()
    alarm.affected.set(people)
    return alarm


def test_somebody_is_told_once_and_the_first_hour_stands():
    alarm, danuta = touching(cast.danuta()), cast.danuta()
    first = actions.tell(alarm=alarm, person=danuta, by=cast.artist(), at=cast.moment())
    later = cast.moment(hour=11)
    again = actions.tell(alarm=alarm, person=danuta, by=cast.artist(), at=later)
    assert (again.pk, again.told_at, alarm.waiting) == (first.pk, cast.moment(), 0)


def test_only_whom_it_touches_is_told_and_only_by_the_artist():
    alarm = touching(cast.danuta())
    with pytest.raises(Refused, match="not_touched"):
        actions.tell(alarm=alarm, person=cast.marcel(), by=cast.artist(), at=cast.moment())
    with pytest.raises(Refused, match="artist_only"):
        actions.tell(alarm=alarm, person=cast.danuta(), by=cast.assistant(), at=cast.moment())
    assert alarm.waiting == 1


def note(alarm, by=None, **said):
    actions.note_authority(alarm=alarm, by=by or cast.keeper(), on=days(1), **said)
    alarm.refresh_from_db()
    return alarm.authority_told_on, alarm.not_needed_on, alarm.not_needed_why


def test_authority_is_told_or_need_not_be_and_the_last_word_stands():
    alarm = touching(cast.danuta())
    assert note(alarm, why_not="It was locked.") == (None, days(1), "It was locked.")
    assert note(alarm, told_on=days(1)) == (days(1), None, "")
    for said in ({}, {"told_on": days(1), "why_not": "Both."}):
        with pytest.raises(Refused, match="told_or_why"):
            note(alarm, **said)
    with pytest.raises(Refused, match="before_it_was_known"):
        note(alarm, told_on=days(-1))
    with pytest.raises(Refused, match="artist_or_keeper"):
        note(alarm, by=cast.assistant(), told_on=days(1))


def test_what_touches_somebody_is_closed_after_the_word_on_the_authority():
    alarm = touching(cast.danuta())
    with pytest.raises(Refused, match="authority_first"):
        actions.close_alarm(alarm=alarm, by=cast.artist(), on=days(1))
    note(alarm, why_not="It was locked.")
    assert actions.close_alarm(alarm=alarm, by=cast.artist(), on=days(1)).closed_on == days(1)


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
