"""What the ring card and the ring list are told: tries, rests, hours, presses."""

from datetime import time

import pytest

from relations.meetings import actions, queries
from relations.meetings.models import Call
from relations.meetings.values import MeetingState, Outcome
from relations.people.models import Standing
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db


def rung(who, outcome, day, **rest):
    """A ring that was made, as a row."""
    at = cast.moment(cast.days(day), rest.pop("hour", 10))
    return Call.objects.create(
        person=who, state="settled", outcome=outcome, at=at, by=cast.assistant(), **rest
    )


def test_no_answer_and_off_count_together_since_the_last_pause() -> None:
    daud = cast.daud()
    rung(daud, "no_answer", -200, next_step="pause")
    rung(daud, "off", -10, next_step="ring")
    rung(daud, "someone_else", -9, next_step="ring")
    found = queries.history(daud, cast.moment())
    assert found.tries(Outcome.NO_ANSWER) == 2
    assert found.tries(Outcome.SOMEONE_ELSE) == 2
    assert found.tries(Outcome.THINKING) == 1
    assert (found.pauses, found.first_on) == (1, cast.days(-200))


def test_their_own_rings_are_no_tries() -> None:
    daud = cast.daud()
    rung(daud, "no_answer", -3, by_them=True)
    assert queries.history(daud, cast.moment()) == queries.History()


def test_four_answered_rings_in_thirty_days_call_for_rest() -> None:
    bruno = cast.bruno()
    for day in (-20, -15, -10):
        rung(bruno, "thinking", day)
    rung(bruno, "no_answer", -5)
    rung(bruno, "thinking", -4, by_them=True)
    rung(bruno, "spoke", -3, counts=False)
    assert queries.rest_until(bruno, cast.TODAY) is None
    rung(bruno, "no_answer", -2, kind="visit")
    assert queries.rest_until(bruno, cast.TODAY) == cast.days(10)


def test_name_is_said_only_of_one_who_may_be_named() -> None:
    assert queries.may_say(cast.daud()) == ""
    assert queries.may_say(cast.bruno()) == "Danuta"
    ibrahima = cast.ibrahima()
    assert queries.may_say(ibrahima) == ""
    ibrahima.introductions.update(may_say_who=True)
    assert queries.may_say(ibrahima) == cast.chaplaincy().label
    marcel = cast.marcel()
    marcel.introductions.update(may_say_who=True)
    assert queries.may_say(marcel) == ""


def test_zone_is_that_of_the_first_line_that_names_one() -> None:
    daud = cast.daud()
    assert queries.zone_of(queries.open_lines(daud)).key == "Europe/Paris"
    daud.lines.update(zone="Asia/Dhaka")
    assert queries.zone_of(queries.open_lines(daud)).key == "Asia/Dhaka"


def test_safe_times_are_read_as_hours_and_days() -> None:
    daud = cast.daud()
    daud.safe_days = [1]
    safe = queries.safe_times(daud)
    assert safe.on(cast.TODAY) == ()  # a Monday
    assert [window.start for window in safe.on(cast.days(1))] == [time(10)]


def test_last_rings_are_three() -> None:
    bruno = cast.bruno()
    for day in range(-5, 0):
        rung(bruno, "no_answer", day)
    assert len(queries.last_rings(bruno)) == 3


def fixed(who, day=0, **rest):
    return actions.fix(
        person=who, at=cast.moment(cast.days(day), 15), place="the mole", by=cast.artist(),
        on=cast.TODAY, exit_signal="a cough", **rest,
    )  # fmt: skip


def test_press_that_is_too_early_says_so() -> None:
    far = fixed(cast.bruno(), 5)
    pressed = queries.presses(far, cast.TODAY)
    assert pressed[MeetingState.CONFIRMED] == ("too_early",)
    assert pressed[MeetingState.MOVED] == ()
    actions.confirm(meeting=far, by=cast.artist(), at=cast.moment(cast.days(4)))
    assert queries.presses(far, cast.TODAY)[MeetingState.HELD] == ("not_yet",)
    assert queries.presses(far, cast.days(5))[MeetingState.HELD] == ()


def test_meetings_are_split_into_ahead_and_over() -> None:
    ahead, over = fixed(cast.bruno()), fixed(cast.danuta())
    actions.call_off(meeting=over, by=cast.artist(), at=cast.moment())
    assert list(queries.open_meetings(cast.artist())) == [ahead]
    assert list(queries.past_meetings(cast.artist())) == [over]
    assert not queries.open_meetings(cast.assistant()).filter(person=cast.marcel()).exists()


def test_trip_of_a_day_is_the_one_that_runs_or_comes_next() -> None:
    assert queries.trip_on(cast.TODAY) is None
    past = {"first_day": cast.days(-30), "last_day": cast.days(-20)}
    actions.open_trip(code="T6", by=cast.artist(), **past)
    t7 = actions.open_trip(
        code="T7", first_day=cast.days(7), last_day=cast.days(20), by=cast.artist()
    )
    assert queries.trip_on(cast.TODAY) == t7
    assert [trip.code for trip in queries.trips()] == ["T7", "T6"]


def test_who_stepped_back_is_met_only_anew() -> None:
    danuta = cast.danuta()
    assert queries.may_be_met(danuta)
    danuta.standing = Standing.STEPPED_BACK
    assert not queries.may_be_met(danuta)


def test_their_hours_stand_by_our_own_clock_where_theirs_is_another() -> None:
    """Dhaka is five hours ahead of Paris in winter, four in summer."""
    daud = cast.daud()
    daud.safe_hours = [["14:00", "19:00"]]
    daud.save()
    daud.lines.update(zone="Africa/Tunis")
    assert queries.by_our_clock(daud, cast.moment()) == ()
    daud.lines.update(zone="Asia/Dhaka")
    for at, expected in (
        (cast.moment(), "09:00-14:00"),
        (cast.moment(cast.TODAY.replace(month=7)), "10:00-15:00"),
    ):
        (span,) = queries.by_our_clock(daud, at)
        assert f"{span.begin:%H:%M}-{span.end:%H:%M}" == expected


def test_calendar_holds_what_is_fixed_and_still_to_come_under_codes() -> None:
    cast.in_sight(cast.danuta(), cast.assistant())
    given = {
        "person": cast.danuta(), "place": "behind the mole", "by": cast.artist(),
        "on": cast.TODAY, "exit_signal": "a cough",
    }  # fmt: skip
    talk, sitting, over = (
        actions.fix(at=cast.moment(cast.days(day), hour), with_camera=camera, **given)
        for day, hour, camera in ((1, 9, False), (2, 9, True), (0, 8, False))
    )
    actions.call_off(meeting=over, by=cast.artist(), at=cast.moment())
    actions.propose(person=cast.danuta(), by=cast.artist(), on=cast.TODAY, at=talk.at)
    found = queries.coming(cast.assistant(), cast.moment(), "Talk", "Sitting")
    assert [(one.key, one.says, one.lasts.seconds // 60) for one in found] == [
        (talk.pk, "Talk 12", 60),
        (sitting.pk, "Sitting 12", 140),
    ]


def test_ring_is_overtaken_by_one_of_a_later_hour_that_came_to_something() -> None:
    daud, at = cast.daud(), cast.moment(hour=10)
    assert not queries.is_overtaken(daud, at)
    Call.objects.create(person=daud, due_on=cast.days(1))
    Call.objects.create(person=daud, state="settled", outcome="off", at=at, by=cast.assistant())
    assert not queries.is_overtaken(daud, at)
    assert queries.is_overtaken(daud, cast.moment(hour=9))


def test_page_is_old_once_a_ring_was_noted_that_it_does_not_show() -> None:
    daud = cast.daud()
    queries.refuse_old_page(daud, "")
    done = Call.objects.create(
        person=daud, state="settled", outcome="off", at=cast.moment(), by=cast.assistant()
    )
    queries.refuse_old_page(daud, str(done.pk))
    with pytest.raises(Refused, match="old_page"):
        queries.refuse_old_page(daud, "")
