"""What is written about trips, meetings, helpers and recordings, and what is refused."""

from datetime import timedelta

import pytest

from relations.meetings import actions
from relations.meetings.models import HelperKind
from relations.meetings.values import EXPLAINED, TOLD_BACK
from relations.people import actions as people
from relations.people.models import InSight, Standing, Why
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db
NOW = cast.moment()
BY = {"place": "behind the mole", "exit_signal": "a cough"}


def refusal(act, /, *args, **rest):
    with pytest.raises(Refused) as caught:
        act(*args, **rest)
    return caught.value.codes


def agreed(standing=Standing.MEETING_AGREED):
    bruno = cast.bruno()
    bruno.standing = standing
    bruno.save()
    return bruno


def fix(who, day=0, **rest):
    at = rest.pop("at", cast.moment(cast.days(day), 15))
    given = {"person": who, "at": at, "by": cast.artist(), "on": cast.TODAY, **BY, **rest}
    return actions.fix(**given)


def press(act, meeting, day=0, hour=20):
    return act(meeting=meeting, by=cast.assistant(), at=cast.moment(cast.days(day), hour))


def held(who, **rest):
    meeting = fix(who, **rest)
    press(actions.confirm, meeting)
    return press(actions.hold_it, meeting)


def write_up(meeting, **rest):
    given = {
        "power_present": False, "explained": EXPLAINED, "told_back": TOLD_BACK,
        "by": cast.artist(), "at": cast.moment(hour=20), **rest,
    }  # fmt: skip
    return actions.write_up(meeting=meeting, **given)


def test_fixing_agrees_to_a_meeting_and_shows_the_person_around_its_day() -> None:
    cast.assistant()
    bruno = agreed(Standing.THINKING_IT_OVER)
    meeting = fix(bruno, 5)
    assert (meeting.state, bruno.standing) == ("fixed", Standing.MEETING_AGREED)
    days = InSight.objects.filter(person=bruno, why=Why.MEETING).order_by("day")
    assert [row.day for row in days] == [cast.days(day) for day in (4, 5, 6, 7)]


def test_nobody_is_met_whom_a_hold_or_a_no_keeps_away() -> None:
    assert refusal(fix, who=cast.herve()) == ("no_such_move",)
    assert refusal(fix, who=agreed(Standing.STEPPED_BACK)) == ("no_such_move",)
    danuta = cast.danuta()
    people.hold(person=danuta, by=cast.artist(), at=NOW)
    assert refusal(fix, who=danuta) == ("on_hold",)


def test_sitter_is_met_and_stands_where_they_stood() -> None:
    danuta = cast.danuta()
    fix(danuta)
    assert danuta.standing == Standing.TAKING_PART


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"place": " "}, "no_place"),
        ({"place_is_theirs": False}, "place"),
        ({"exit_signal": " "}, "exit_signal"),
    ],
)
def test_fixing_needs_their_place_and_a_sign_to_leave(given, code) -> None:
    assert refusal(fix, who=agreed(), **given) == (code,)


def test_interpreter_is_not_a_witness() -> None:
    kinds = {
        kind: actions.add_helper(kind=kind, initials=kind[:2], by=cast.artist())
        for kind in HelperKind
    }
    assert refusal(fix, who=agreed(), interpreter=kinds["witness"]) == ("not_an_interpreter",)
    assert fix(agreed(), interpreter=kinds["interpreter"]).interpreter.initials == "in"


def test_fallback_with_an_hour_has_a_place_and_lies_after_the_meeting() -> None:
    later = cast.moment(cast.days(1), 11)
    assert refusal(fix, who=agreed(), fallback_at=later) == ("fallback",)
    early = {"fallback": "the ferry hall", "fallback_at": cast.moment(cast.days(0), 15)}
    assert refusal(fix, who=agreed(), **early) == ("fallback",)
    assert fix(agreed(), fallback="the ferry hall", fallback_at=later).fallback_at == later


def test_meeting_moves_to_what_was_agreed_in_one_press_and_is_fixed_again() -> None:
    cast.assistant()
    later = cast.moment(cast.days(6), 11)
    meeting = fix(agreed(), fallback="the ferry hall", fallback_at=later, company="alone")
    press(actions.confirm, meeting)
    moved = press(actions.move_as_agreed, meeting)
    moved.refresh_from_db()
    assert (moved.state, moved.at, moved.place) == ("fixed", later, "the ferry hall")
    assert (moved.fallback, moved.fallback_at, moved.times_moved) == ("", None, 1)
    assert (moved.exit_signal, moved.company) == ("a cough", "alone")
    seen = InSight.objects.filter(person=moved.person, day__gte=cast.days(5))
    assert min(row.day for row in seen) == cast.days(5)
    assert refusal(press, actions.move_as_agreed, moved) == ("no_fallback",)


def test_meeting_moves_to_no_hour_that_is_past_or_was_not_agreed() -> None:
    other = {"fallback": "the ferry hall", "fallback_at": cast.moment(cast.days(0), 19)}
    meeting = fix(agreed(), **other)
    assert refusal(press, actions.move_as_agreed, meeting) == ("fallback_is_past",)
    assert refusal(press, actions.move_as_agreed, fix(agreed(), fallback="x")) == ("no_fallback",)
    over = press(actions.call_off, fix(agreed(), **other), hour=9)
    assert refusal(press, actions.move_as_agreed, over, hour=9) == ("no_such_move",)


def test_proposed_meeting_is_fixed_by_its_person_only() -> None:
    bruno = agreed()
    meeting = actions.propose(person=bruno, by=cast.artist(), on=cast.TODAY)
    assert (meeting.state, meeting.at) == ("proposed", None)
    assert refusal(fix, who=cast.danuta(), meeting=meeting) == ("not_theirs",)
    assert fix(bruno, meeting=meeting).pk == meeting.pk


def test_meeting_is_confirmed_from_the_day_before() -> None:
    meeting = fix(agreed(), 5)
    assert refusal(press, actions.confirm, meeting) == ("too_early",)
    assert press(actions.confirm, meeting, 4).state == "confirmed"
    assert refusal(press, actions.hold_it, meeting, 4) == ("not_yet",)
    assert refusal(press, actions.nobody_came, meeting, 4) == ("not_yet",)
    assert press(actions.hold_it, meeting, 5).state == "held"


def test_press_on_a_page_of_before_finds_a_meeting_called_off() -> None:
    who = agreed()
    meeting = fix(who)
    people.never_ring(person=who, by=cast.assistant(), at=cast.moment())
    who.meetings.update(state="called_off")
    assert refusal(press, actions.confirm, meeting) == ("no_such_move",)
    meeting.refresh_from_db()
    assert meeting.state == "called_off"


def test_after_nobody_came_it_is_moved_once() -> None:
    meeting = fix(agreed())
    press(actions.confirm, meeting)
    press(actions.nobody_came, meeting)
    assert press(actions.move, meeting).times_moved == 1
    fix(meeting.person, 1, meeting=meeting)
    press(actions.confirm, meeting, 1)
    press(actions.nobody_came, meeting, 1)
    assert refusal(press, actions.move, meeting, 1) == ("moved_once",)
    assert press(actions.call_off, meeting, 1).state == "called_off"


def test_meeting_held_alone_makes_met_and_four_told_back_agree_to_a_sitting() -> None:
    meeting = write_up(held(agreed()))
    assert meeting.state == "written_up"
    assert (meeting.explained, meeting.told_back) == (list(EXPLAINED), list(TOLD_BACK))
    assert meeting.person.standing == Standing.SITTING_AGREED
    assert meeting.person.last_talk_on == cast.TODAY


def test_three_told_back_or_wanting_time_stays_met() -> None:
    meeting = write_up(held(agreed()), told_back=TOLD_BACK[:3])
    assert meeting.person.standing == Standing.MET
    assert write_up(held(agreed()), wants_time=True).person.standing == Standing.MET


def test_meeting_with_somebody_who_has_power_does_not_count() -> None:
    meeting = write_up(held(agreed()), power_present=True)
    assert meeting.person.standing == Standing.MEETING_AGREED
    assert meeting.person.last_talk_on is None


def test_meeting_cut_short_does_not_count_and_says_why() -> None:
    meeting = held(agreed())
    assert refusal(write_up, meeting=meeting, ended_why="rain") == ("why",)
    meeting.refresh_from_db()
    assert write_up(meeting, ended_why="safety").person.standing == Standing.MEETING_AGREED


def test_writing_up_late_needs_a_sentence() -> None:
    meeting = held(agreed())
    late = meeting.at + timedelta(hours=49)
    assert refusal(write_up, meeting=meeting, at=late) == ("why_late",)
    meeting.refresh_from_db()
    assert write_up(meeting, at=late, late_why="The line was down.").late_why


def test_writing_up_says_who_was_there_and_ticks_what_is_on_the_sheet() -> None:
    meeting = held(agreed())
    assert refusal(write_up, meeting=meeting, power_present=None) == ("who_was_there",)
    assert refusal(write_up, meeting=meeting, explained=["weather"]) == ("no_such_tick",)
    assert refusal(write_up, meeting=meeting, told_back=["weather"]) == ("no_such_tick",)
    proposed = actions.propose(person=agreed(), by=cast.artist(), on=cast.TODAY)
    assert refusal(write_up, meeting=proposed) == ("no_such_move",)


def test_standing_is_never_dated_before_the_one_it_follows() -> None:
    bruno = agreed()
    bruno.standing_since = cast.days(3)
    bruno.save()
    write_up(held(bruno))
    bruno.refresh_from_db()
    assert bruno.standing_since == cast.days(3)
