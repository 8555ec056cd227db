"""What a ring writes: its outcome, the standing, the next ring, who sees the person when."""

from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from relations.meetings import actions
from relations.meetings.models import Call, Meeting
from relations.meetings.rings import show_to_assistants
from relations.people import actions as people
from relations.people.models import InSight, NeverRing, Standing, Why
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db
MONDAY = cast.moment(hour=10, minute=40)


def note(who, outcome, at=MONDAY, **rest):
    return actions.note_call(person=who, outcome=outcome, by=cast.assistant(), at=at, **rest)


def plan(who, day=0, **rest):
    return actions.plan_ring(person=who, due_on=cast.days(day), by=cast.artist(), **rest)


def planned(who):
    return who.calls.get(state="planned")


def refusal(act, *args, **rest):
    with pytest.raises(Refused) as caught:
        act(*args, **rest)
    return caught.value.codes


def being_rung(**rest):
    daud = cast.daud()
    daud.standing = rest.pop("standing", Standing.BEING_RUNG)
    for name, value in rest.items():
        setattr(daud, name, value)
    daud.save()
    return daud


def test_first_ring_moves_to_being_rung_and_no_answer_is_tried_again_in_two_days() -> None:
    daud = cast.daud()
    daud.safe_hours = [["10:00", "12:00"], ["14:00", "19:00"]]
    call = note(daud, "no_answer")
    assert (call.state, call.outcome, call.next_step) == ("settled", "no_answer", "ring")
    assert daud.standing == Standing.BEING_RUNG
    again = planned(daud)
    # job.md F1: no answer Monday 10:40 -> from Wednesday 25 November, another part of the day
    assert (again.due_on, again.parts) == (date(2026, 11, 25), ["afternoon", "evening"])
    assert again.due_at is None


def test_a_ring_is_put_in_sight_by_as_many_statements_however_many_assistants_there_are() -> None:
    who, asked = being_rung(), []
    for one in (cast.assistant, cast.second_assistant):
        one()
        with CaptureQueriesContext(connection) as said:
            show_to_assistants(who, cast.TODAY, Why.RING, days=7)
        asked.append(len(said))
    # The first assistant saw them already: twice is once.
    assert InSight.objects.filter(person=who).count() == 14
    assert asked[0] == asked[1]


def test_third_try_pauses_for_ninety_days_and_the_second_pause_lets_go() -> None:
    daud = being_rung()
    for day in (0, 2, 6):
        note(daud, "no_answer", cast.moment(cast.days(day), 10))
    assert daud.standing == Standing.PAUSE
    rest = planned(daud)
    assert rest.due_on == cast.days(96)
    assert refusal(note, daud, "no_answer", cast.moment(cast.days(20), 10)) == ("rest_not_over",)
    for day in (96, 98, 102):
        note(daud, "off", cast.moment(cast.days(day), 10))
    assert daud.standing == Standing.PAUSE
    assert not daud.calls.filter(state="planned").exists()


def test_resting_person_is_not_rung_without_a_plan() -> None:
    assert refusal(note, being_rung(standing=Standing.PAUSE), "no_answer") == ("rest_not_over",)


def test_ring_fulfils_the_plan_and_a_message_does_not() -> None:
    daud = being_rung()
    first = plan(daud)
    call = note(daud, "thinking", kind="message")
    assert call.pk != first.pk
    first.refresh_from_db()
    assert first.state == "called_off"
    second = planned(daud)
    daud.standing = Standing.BEING_RUNG
    daud.save()
    assert note(daud, "yes_meet").pk == second.pk


def test_assistants_see_the_person_for_a_week_from_the_due_day() -> None:
    cast.assistant(), cast.second_assistant()
    daud = being_rung()
    plan(daud, 3)
    days = InSight.objects.filter(person=daud, why=Why.RING).values_list("day", "user__username")
    assert set(days) == {(cast.days(day), n) for day in range(3, 10) for n in ("loic", "maelle")}
    plan(daud, -5)
    left = InSight.objects.filter(person=daud, why=Why.RING, user=cast.assistant())
    assert [row.day for row in left.order_by("day")] == [cast.days(0), cast.days(1)]


def test_plan_takes_the_place_of_the_plan_before() -> None:
    daud = being_rung()
    plan(daud, 1)
    plan(daud, 2, parts=["morning"])
    assert planned(daud).due_on == cast.days(2)
    assert daud.calls.filter(state="called_off").count() == 1


@pytest.mark.parametrize("act", [plan, lambda who: note(who, "no_answer")])
def test_nobody_rings_who_was_not_vouched_for_or_said_no(act) -> None:
    assert refusal(act, cast.herve()) == ("not_vouched_for",)
    assert refusal(act, being_rung(standing=Standing.SAID_NO)) == ("may_not_be_rung",)


def test_first_ring_waits_for_language_and_hours() -> None:
    daud = cast.daud()
    daud.languages, daud.safe_hours = "", []
    daud.save()
    assert refusal(note, daud, "no_answer") == ("language_not_settled", "hours_not_settled")
    assert not daud.calls.exists()


def test_hold_stops_every_outcome_but_a_no() -> None:
    daud = being_rung()
    people.hold(person=daud, by=cast.artist(), at=MONDAY)
    assert refusal(note, daud, "thinking") == ("on_hold",)
    assert refusal(note, daud, "thinking", by_them=True) == ("on_hold",)
    note(daud, "no")
    assert daud.standing == Standing.SAID_NO


def test_rest_stops_our_ring_but_not_theirs_nor_an_agreed_delivery() -> None:
    daud = being_rung()
    for day in (-8, -6, -4, -2):
        Call.objects.create(
            person=daud, state="settled", outcome="interpreter", by=cast.artist(),
            at=cast.moment(cast.days(day)),
        )  # fmt: skip
    assert refusal(note, daud, "no_answer") == ("rest",)
    assert note(daud, "no_answer", counts=False).counts is False
    assert note(daud, "thinking", by_them=True).by_them
    assert daud.standing == Standing.THINKING_IT_OVER


def test_no_erases_in_thirty_days_and_calls_the_meeting_off() -> None:
    bruno = cast.bruno()
    actions.fix(
        person=bruno, at=cast.moment(cast.days(2)), place="the mole", by=cast.artist(),
        on=cast.TODAY, exit_signal="a cough",
    )  # fmt: skip
    plan(bruno, 1)
    call = note(bruno, "no")
    assert (bruno.standing, call.next_step) == (Standing.SAID_NO, "erase")
    assert Meeting.objects.get().state == "called_off"
    assert not bruno.calls.filter(state="planned").exists()
    assert not InSight.objects.filter(person=bruno, why=Why.RING, day__gt=cast.TODAY).exists()


def test_no_of_a_sitter_lays_a_hold_at_once() -> None:
    danuta = cast.danuta()
    note(danuta, "no")
    assert danuta.standing == Standing.TAKING_PART
    assert danuta.holds.filter(lifted_at=None).count() == 1


def test_never_again_marks_the_number_at_once_whatever_stands_in_the_way() -> None:
    herve = cast.herve()
    line = cast.line(herve, "06 39 98 00 41")
    people.hold(person=herve, by=cast.artist(), at=MONDAY)
    call = note(herve, "never_again", line=line)
    assert (herve.standing, call.next_step) == (Standing.NEVER_RING, "never")
    assert NeverRing.objects.get().mark == line.mark


def test_never_again_on_a_shared_line_marks_number_and_person() -> None:
    danuta = cast.danuta()
    note(danuta, "never_again", line=danuta.lines.get())
    assert NeverRing.objects.get().whole_number is False


def test_wrong_number_is_never_rung_again() -> None:
    daud = being_rung()
    line = daud.lines.get()
    call = note(daud, "wrong_number", line=line)
    line.refresh_from_db()
    assert (line.ended_on, call.next_step) == (cast.TODAY, "ask_introducer")
    assert not daud.calls.filter(state="planned").exists()


def test_line_that_somebody_else_answers_is_shared_from_then_on() -> None:
    daud = being_rung()
    line = daud.lines.get()
    note(daud, "someone_else", line=line)
    line.refresh_from_db()
    assert line.is_shared
    assert planned(daud).due_on == cast.days(3)
    note(daud, "someone_else", cast.moment(cast.days(3), 10), line=line)
    call = note(daud, "someone_else", cast.moment(cast.days(6), 10), line=line)
    assert call.next_step == "ask_introducer"


def test_ring_later_comes_at_the_hour_they_named() -> None:
    daud = being_rung()
    at = cast.moment(cast.days(4), 20)
    note(daud, "ring_later", asked_for_at=at)
    assert (planned(daud).due_on, planned(daud).due_at) == (cast.days(4), at)


def test_ring_later_on_a_day_has_no_hour() -> None:
    daud = being_rung()
    note(daud, "ring_later", asked_for_on=cast.days(4))
    assert (planned(daud).due_on, planned(daud).due_at) == (cast.days(4), None)
    daud.safe_days = [0]
    note(daud, "ring_later", asked_for_on=cast.days(1))  # a Tuesday, which they named themselves
    assert planned(daud).due_on == cast.days(1)


def test_ring_later_asks_for_a_day_that_is_not_past() -> None:
    daud = being_rung()
    assert refusal(note, daud, "ring_later") == ("no_day",)
    assert refusal(note, daud, "ring_later", asked_for_on=cast.days(-1)) == ("day_is_past",)


def test_thinking_is_reminded_once_and_then_it_is_theirs() -> None:
    daud = being_rung()
    note(daud, "thinking")
    assert (daud.standing, daud.last_talk_on) == (Standing.THINKING_IT_OVER, cast.TODAY)
    assert planned(daud).due_on == cast.days(14)
    assert refusal(note, daud, "no_answer", cast.moment(cast.days(3))) == ("still_thinking",)
    call = note(daud, "wants_pictures", cast.moment(cast.days(14), 10))
    assert call.next_step == "theirs"
    assert not daud.calls.filter(state="planned").exists()


def test_thinking_until_the_day_they_named() -> None:
    daud = being_rung()
    note(daud, "thinking", asked_for_on=cast.days(5))
    assert planned(daud).due_on == cast.days(5)


def test_sitting_agreed_is_put_off_by_thinking() -> None:
    edelmira = cast.edelmira()
    note(edelmira, "thinking")
    assert edelmira.standing == Standing.MET


def test_yes_agrees_to_a_meeting() -> None:
    daud = being_rung()
    call = note(daud, "yes_meet")
    assert (daud.standing, call.next_step) == (Standing.MEETING_AGREED, "none")


def test_their_ring_ends_a_pause_and_settles_nothing_for_one_not_vouched_for() -> None:
    daud = being_rung(standing=Standing.PAUSE)
    note(daud, "yes_meet", by_them=True)
    assert daud.standing == Standing.MEETING_AGREED
    herve = cast.herve()
    note(herve, "yes_meet", by_them=True)
    assert herve.standing == Standing.NAMED


def test_sitter_stays_where_they_stand_whatever_comes_of_a_ring() -> None:
    danuta = cast.danuta()
    for day in (0, 2, 6):
        note(danuta, "no_answer", cast.moment(cast.days(day), 10))
    assert danuta.standing == Standing.TAKING_PART
    assert planned(danuta).due_on == cast.days(96)


def test_talk_with_a_sitter_is_the_last_word() -> None:
    danuta = cast.danuta()
    plan(danuta)
    call = actions.note_spoke(person=danuta, by=cast.assistant(), at=MONDAY)
    assert (call.outcome, call.state, danuta.last_talk_on) == ("spoke", "settled", cast.TODAY)
    assert not danuta.calls.filter(state="planned").exists()
    talk = {"person": cast.daud(), "by": cast.assistant(), "at": MONDAY}
    assert refusal(actions.note_spoke, **talk) == ("has_not_sat",)


def test_ring_is_put_off_or_called_off_only_before_it_is_made() -> None:
    daud = being_rung()
    call = plan(daud, 0, due_at=cast.moment(hour=11), parts=["morning"])
    actions.put_off(call=call, due_on=cast.days(2), by=cast.assistant())
    call.refresh_from_db()
    assert (call.state, call.due_on, call.due_at, call.parts) == (
        "planned", cast.days(2), None, [],
    )  # fmt: skip
    actions.call_off_ring(call=call, by=cast.assistant(), at=MONDAY)
    assert refusal(actions.put_off, call=call, due_on=cast.TODAY, by=cast.assistant()) == (
        "no_such_move",
    )


def test_ring_noted_on_a_moved_plan_is_made() -> None:
    daud = being_rung()
    call = plan(daud)
    Call.objects.update(state="moved")
    assert note(daud, "no_answer").pk == call.pk


def test_next_ring_is_reckoned_in_the_zone_of_the_person() -> None:
    daud = being_rung(safe_hours=[["08:00", "10:00"]])
    daud.lines.update(zone="Asia/Dhaka")
    note(daud, "ring_later", asked_for_on=cast.days(1))
    assert planned(daud).due_on == cast.days(1)
    # 02:30 there is still the evening before here, and is theirs: the day is counted there.
    at = cast.moment(cast.days(1), 21, 30)
    note(daud, "ring_later", asked_for_at=at)
    assert (planned(daud).due_at, planned(daud).due_on) == (at, cast.days(2))
