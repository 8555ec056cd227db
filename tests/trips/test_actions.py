"""Days, plans, counts and the end of a trip: what is written, and what is refused."""

from datetime import timedelta

import pytest

from relations.consent.models import Form
from relations.meetings import actions as meetings
from relations.meetings.models import Meeting, Trip
from relations.people.models import InSight, PersonHold
from relations.privacy.refused import Refused
from relations.rights.models import Alarm
from relations.trips import actions, queries
from relations.trips.models import Count, Day, MissingBlank, Stay
from relations.trips.values import COUNTS, Counted, How
from tests import cast
from tests.rows import make
from tests.trips import desk
from tests.trips.test_rules import HELD

pytestmark = pytest.mark.django_db
HOME = desk.LAST + timedelta(days=1)


@pytest.fixture
def trip():
    return desk.trip()


def refused(action, **given):
    with pytest.raises(Refused) as caught:
        action(**given)
    return caught.value.codes


def set_days(trip, days, **more):
    return actions.set_days(trip=trip, days=days, by=cast.artist(), **more)


def count(trip, **things):
    counts = {
        Counted(thing): {How(how): n for how, n in heaps.items()} for thing, heaps in things.items()
    }
    return actions.count(trip=trip, counts=counts, by=cast.assistant(), at=cast.moment(HOME))


def close(trip, on=HOME):
    return actions.close(trip=trip, by=cast.assistant(), on=on)


def test_days_are_kept_once_each_and_said_anew_they_replace_the_old(trip):
    set_days(trip, [desk.LAST, desk.FIRST, desk.FIRST], rounds=[desk.LAST], countries=["IT", "FR"])
    assert [(day.on, day.has_round) for day in queries.days(trip)] == [
        (desk.FIRST, False), (desk.LAST, True),
    ]  # fmt: skip
    assert queries.stay(trip).countries == ["FR", "IT"]
    set_days(trip, [desk.FIRST])
    assert [day.on for day in queries.days(trip)] == [desk.FIRST]
    assert Stay.objects.get().countries == []


def test_day_that_is_none_of_the_trip_is_refused_and_a_round_on_a_day_of_rest(trip):
    before = desk.FIRST - timedelta(days=1)
    assert refused(set_days, trip=trip, days=[before]) == ("outside_trip",)
    assert refused(set_days, trip=trip, days=[desk.FIRST], rounds=[desk.LAST]) == (
        "round_without_day",
    )
    assert not Day.objects.exists()


def test_somebody_is_planned_by_a_meeting_that_is_proposed(trip):
    meeting = desk.plan(trip, desk.sitter(), others=2)
    assert (meeting.state, meeting.with_camera, meeting.others, meeting.sheets) == (
        "proposed", True, 2, 6,
    )  # fmt: skip
    assert not InSight.objects.exists()


def test_plan_changes_the_meeting_that_is_agreed_there_already(trip):
    person = desk.sitter()
    fixed = make(Meeting, person=person, trip=trip, state="fixed", at=cast.moment(desk.FIRST))
    make(Meeting, person=person, state="proposed", trip=make(Trip))
    assert desk.plan(trip, person, sheets=9) == fixed
    assert desk.plan(trip, person, with_camera=False).sheets == 0
    fixed.refresh_from_db()
    assert (fixed.state, fixed.with_camera) == ("fixed", False)
    assert trip.meetings.count() == 1


def test_nobody_on_hold_is_planned(trip):
    held = make(PersonHold).person
    assert refused(desk.plan, trip=trip, person=held) == ("on_hold",)
    assert not trip.meetings.exists()


def test_count_is_kept_replaced_and_taken_out_again(trip):
    count(trip, film={"taken": 64, "lost": 1})
    count(trip, film={"taken": 66, "lost": None})
    assert [(row.how, row.number, row.counted_on) for row in Count.objects.all()] == [
        ("taken", 66, HOME)
    ]


@pytest.mark.parametrize("things", [{"film": {"spent": 1}}, {"blanks": {"taken": 20}}])
def test_heap_that_a_thing_does_not_have_is_not_counted(trip, things):
    """Blanks are counted by serial, never by hand."""
    assert refused(count, trip=trip, **things) == ("no_such_count",)


def test_missing_blank_opens_one_alarm_that_names_it_and_ends_nobodys_session(trip):
    lost = make(Form, trip=trip, state="missing")
    make(Form, trip=trip, state="spoilt")
    make(Form, state="missing")
    alarm = count(trip, film={"taken": 64})
    assert (alarm.what, alarm.sessions_ended_at, alarm.affected.count()) == ("blank", None, 0)
    assert [row.form for row in alarm.missing_blanks.all()] == [lost]
    assert count(trip, film={"taken": 64}) is None
    later = make(Form, trip=trip, state="missing")
    second = count(trip, film={"taken": 64})
    assert [row.form for row in second.missing_blanks.all()] == [later]
    assert Alarm.objects.count() == 2


def test_missing_blank_is_written_off_only_when_its_alarm_is_over(trip):
    lost = make(Form, trip=trip, state="missing", carried_by=cast.assistant())
    write_off = {"form": lost, "by": cast.assistant(), "on": HOME}
    assert refused(actions.write_off, **write_off) == ("alarm_is_open",)
    alarm = count(trip)
    assert refused(actions.write_off, **write_off) == ("alarm_is_open",)
    alarm.closed_on = HOME
    alarm.save()
    actions.write_off(**write_off)
    lost.refresh_from_db()
    assert lost.state == "written_off"
    assert queries.blanks(trip).is_balanced


def test_trip_is_closed_when_everything_came_home(trip):
    make(Form, trip=trip, state="spoilt")
    count(trip, **HELD)
    stay = close(trip)
    assert (stay.closed_on, stay.closed_by) == (HOME, cast.assistant())
    assert close(trip, on=HOME + timedelta(days=1)).closed_on == HOME


def test_trip_is_not_closed_before_its_last_day_or_with_an_open_end(trip):
    assert refused(close, trip=trip, on=desk.FIRST) == ("trip_not_over",)
    make(Form, trip=trip, state="carried")
    assert refused(close, trip=trip) == ("blanks_open", *(f"{thing}_open" for thing in COUNTS))


def test_missing_blank_keeps_a_trip_open_until_an_alarm_names_it(trip):
    make(Form, trip=trip, state="missing")
    count(trip, **HELD)
    MissingBlank.objects.all().delete()
    assert refused(close, trip=trip) == ("missing_untold",)
    actions.sound(trip=trip, by=cast.assistant(), at=cast.moment(HOME))
    assert close(trip).closed_on == HOME


def test_nothing_changes_on_a_trip_that_is_closed(trip):
    count(trip, **HELD)
    close(trip)
    closed = ("trip_closed",)
    assert refused(set_days, trip=trip, days=[desk.FIRST]) == closed
    assert refused(desk.plan, trip=trip, person=desk.sitter()) == closed
    assert refused(count, trip=trip, film={"taken": 1}) == closed


def test_plan_is_kept_when_the_meeting_is_fixed(trip):
    """The day, the place and the sign are theirs; film and company were planned before."""
    person = desk.sitter()
    planned = desk.plan(trip, person, others=1, sheets=8)
    fixed = meetings.fix(
        person=person, at=cast.moment(desk.FIRST, 15), place="the library", exit_signal="a scarf",
        by=cast.assistant(), on=cast.TODAY, with_camera=True, trip=trip, meeting=planned,
    )  # fmt: skip
    fixed.refresh_from_db()
    assert (fixed.state, fixed.others, fixed.sheets) == ("fixed", 1, 8)
