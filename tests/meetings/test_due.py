"""Which rings fit now, and who waits for one."""

from datetime import datetime, time

import pytest

from relations.meetings import actions, due
from relations.meetings.models import Call
from relations.meetings.values import Window
from relations.people import actions as people
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db
NINE, ELEVEN = cast.moment(hour=9), cast.moment(hour=11)


def plan(who, day=0, **rest):
    return actions.plan_ring(person=who, due_on=cast.days(day), by=cast.artist(), **rest)


def codes(at, user=None):
    return [one.person.code for one in due.rings_due(user or cast.artist(), at)]


def test_ring_due_today_fits_until_its_safe_hours_end() -> None:
    plan(cast.daud())
    (one,) = due.rings_due(cast.artist(), NINE)
    assert not one.is_now
    assert one.windows == (Window(time(10), time(12)),)
    assert due.rings_due(cast.artist(), ELEVEN)[0].is_now
    assert codes(cast.moment(hour=12)) == []


def test_ring_that_was_not_made_waits_and_says_so() -> None:
    plan(cast.daud(), -2)
    assert due.rings_due(cast.artist(), NINE)[0].is_late


def test_ring_on_a_day_that_is_not_safe_does_not_fit() -> None:
    daud = cast.daud()
    daud.safe_days = [1]  # Tuesdays
    daud.save()
    plan(daud)
    assert codes(NINE) == []


def test_part_of_the_day_holds_on_its_first_day_only() -> None:
    bruno = cast.bruno()
    plan(bruno, parts=["evening"])
    assert codes(NINE) == ["19"]
    assert due.rings_due(cast.artist(), NINE)[0].windows == (Window(time(17), time(19)),)
    plan(bruno, -1, parts=["evening"])
    assert due.rings_due(cast.artist(), NINE)[0].windows[0] == Window(time(10), time(12))


@pytest.mark.parametrize(
    ("hour", "expected"),
    [
        (15, (Window(time(15), time(19)),)),
        (20, (Window(time(20), time(21)),)),
        (12, (Window(time(12), time(13)), Window(time(14), time(19)))),
    ],
)
def test_hour_they_named_holds_whatever_the_safe_hours(hour, expected) -> None:
    plan(cast.bruno(), due_at=cast.moment(hour=hour))
    assert due.rings_due(cast.artist(), NINE)[0].windows == expected


def test_hour_named_late_at_night_ends_with_the_day() -> None:
    late = datetime.combine(cast.TODAY, time(23, 30), NINE.tzinfo)
    plan(cast.bruno(), due_at=late)
    assert due.rings_due(cast.artist(), NINE)[0].windows == (Window(time(23, 30), time.max),)


def test_nobody_on_hold_at_rest_or_silent_is_on_the_list() -> None:
    bruno, daud = cast.bruno(), cast.daud()
    plan(bruno)
    plan(daud)
    people.hold(person=daud, by=cast.assistant(), at=NINE)
    assert codes(NINE) == ["19"]
    for day in (-4, -3, -2, -1):
        Call.objects.create(
            person=bruno, state="settled", outcome="thinking", by=cast.artist(),
            at=cast.moment(cast.days(day)),
        )  # fmt: skip
    assert codes(NINE) == []


@pytest.mark.parametrize("condition", ["cannot_answer", "died"])
def test_nobody_is_rung_who_cannot_answer_though_they_never_sat(condition) -> None:
    bruno = cast.bruno()
    plan(bruno)
    say = {"by": cast.assistant(), "at": NINE}
    people.note_condition(person=bruno, condition=condition, condition_on=cast.TODAY, **say)
    assert codes(NINE) == []
    with pytest.raises(Refused, match="may_not_be_rung"):
        actions.note_call(person=bruno, outcome="no_answer", **say)
    people.note_condition(person=bruno, condition="well", condition_on=None, **say)
    assert codes(NINE) == ["19"]


def test_first_those_who_can_be_rung_now_then_by_hour_and_code() -> None:
    daud, bruno, marcel = cast.daud(), cast.bruno(), cast.marcel()
    bruno.safe_hours = [["14:00", "16:00"]]
    bruno.save()
    for who in (daud, bruno, marcel):
        plan(who)
    assert codes(ELEVEN) == ["01", "42", "19"]


def test_assistant_has_only_rings_of_people_in_sight() -> None:
    cast.assistant()
    plan(cast.daud())
    plan(cast.bruno())
    cast.bruno().in_sight.all().delete()
    assert codes(NINE, cast.assistant()) == ["42"]
    assert [call.person.code for call in due.coming_rings(cast.assistant(), cast.days(-1))] == [
        "42"
    ]


def test_list_takes_as_many_queries_for_many_as_for_one(django_assert_num_queries) -> None:
    artist = cast.artist()
    for who in (cast.daud(), cast.bruno(), cast.marcel()):
        plan(who)
    with django_assert_num_queries(3):
        assert len(due.rings_due(artist, NINE)) == 3


def test_who_is_vouched_for_without_a_plan_waits_for_one() -> None:
    daud = cast.daud()
    assert list(due.waiting_for_a_ring(cast.artist())) == [daud]
    plan(daud)
    assert not due.waiting_for_a_ring(cast.artist())


def test_who_asks_where_the_number_came_from_is_reached_through_the_introducer() -> None:
    daud = cast.daud()
    actions.note_call(person=daud, outcome="asks_who", by=cast.assistant(), at=NINE)
    assert not due.waiting_for_a_ring(cast.artist())
    (found,) = due.only_through_introducer(cast.artist())
    assert (found.code, found.last_outcome) == ("42", "asks_who")
    plan(daud, 3)
    assert not due.only_through_introducer(cast.artist())


def test_day_of_a_ring_begins_where_they_are() -> None:
    """23:30 on 22 November here is 09:30 on the 23rd in Sydney (UTC+11, IANA tz database)."""
    daud = cast.daud()
    daud.lines.update(zone="Australia/Sydney")
    daud.safe_hours = [["09:00", "12:00"]]
    daud.save()
    plan(daud)
    before = cast.moment(cast.days(-1), 23, 30)
    (one,) = due.rings_due(cast.artist(), before)
    assert (one.is_now, one.zone, one.is_late) == (True, "Australia/Sydney", False)
    daud.lines.update(zone="")
    assert due.rings_due(cast.artist(), before) == []


def test_ring_of_tomorrow_is_not_due_today_whatever_the_hour() -> None:
    plan(cast.daud(), 1)
    assert codes(NINE) == []
