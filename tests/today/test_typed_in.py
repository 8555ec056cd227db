"""A day sheet typed in later: each line once, by its number, with the hour at which it happened."""

from datetime import date, time
from itertools import count
from uuid import UUID

import pytest

from relations.consent.models import TakenBack
from relations.documents.models import Sheet
from relations.meetings import actions as meetings
from relations.meetings.models import Call, DayLine, Meeting
from relations.people.models import NeverRing, Participant
from relations.people.queries import open_hold
from relations.prints.models import Step
from relations.privacy.refused import Refused
from relations.today.typed_in import Written, type_in, type_in_all
from tests import cast
from tests.today.test_actions import a_print

pytestmark = pytest.mark.django_db

numbers = count(1)
YESTERDAY = cast.days(-1)


def line(work: str, person: Participant | None = None, about: UUID | None = None) -> DayLine:
    sheet, _ = Sheet.objects.get_or_create(
        serial="50001-36", kind="day_sheet", digest="0" * 64,
        printed_at=cast.moment(YESTERDAY, 8), printed_by=cast.assistant(),
    )  # fmt: skip
    return DayLine.objects.create(
        sheet=sheet, number=next(numbers), work=work, person=person, about=about
    )


def of_ring(person: Participant) -> DayLine:
    call = meetings.plan_ring(person=person, due_on=YESTERDAY, by=cast.artist())
    return line("ring", person, call.pk)


def typed(one: DayLine, came: str, hour: int | None = 10, **rest: object) -> None:
    written = Written(came=came, on=YESTERDAY, hour=time(hour, 40) if hour else None, **rest)
    type_in(line=one, written=written, by=cast.assistant())


def refused(one: DayLine, came: str, **rest: object) -> tuple[str, ...]:
    with pytest.raises(Refused) as no:
        typed(one, came, **rest)
    assert DayLine.objects.get(pk=one.pk).typed_at == one.typed_at
    return no.value.codes


def test_ring_is_dated_by_its_hour_and_the_next_follows_from_that() -> None:
    """F1 from the event: no answer on Sunday 22 November at 10:40, so not before Tuesday."""
    daud = cast.daud()
    one = of_ring(daud)
    typed(one, "no_answer")
    (call,) = Call.objects.exclude(outcome="")
    assert (call.at, call.pk) == (cast.moment(YESTERDAY, 10, 40), one.about)
    assert daud.calls.get(state="planned").due_on == date(2026, 11, 24)
    one.refresh_from_db()
    assert (one.typed_at, one.typed_by) == (cast.moment(), cast.assistant())


def test_line_is_stored_once_whoever_types_it_again() -> None:
    one = of_ring(cast.daud())
    typed(one, "no_answer")
    one.refresh_from_db()
    assert refused(one, "no_answer") == ("typed_already",)
    assert Call.objects.exclude(outcome="").count() == 1


def test_ring_that_was_noted_on_the_screen_is_not_stored_again() -> None:
    daud = cast.daud()
    one = of_ring(daud)
    about = {"person": daud, "by": cast.assistant()}
    meetings.note_call(**about, outcome="off", at=cast.moment(YESTERDAY, 10, 38))
    assert refused(one, "no_answer") == ("noted_already",)
    assert Call.objects.exclude(outcome="").count() == 1


def test_ring_on_paper_that_a_later_one_overtook_is_kept_and_moves_nothing() -> None:
    daud = cast.daud()
    one = of_ring(daud)
    about = {"person": daud, "by": cast.assistant(), "by_them": True}
    meetings.note_call(**about, outcome="yes_meet", at=cast.moment())
    typed(one, "thinking")
    daud.refresh_from_db()
    assert daud.standing == "meeting_agreed"
    assert sorted(daud.calls.values_list("outcome", flat=True)) == ["", "thinking", "yes_meet"]
    assert not daud.calls.filter(state="planned").exists()


def test_day_and_hour_that_they_named_come_back() -> None:
    daud = cast.daud()
    typed(of_ring(daud), "ring_later", named_on=cast.days(2), named_at=time(11, 15))
    assert daud.calls.get(state="planned").due_at == cast.moment(cast.days(2), 11, 15)
    bruno = cast.bruno()
    typed(of_ring(bruno), "ring_later", named_on=cast.days(3))
    plan = bruno.calls.get(state="planned")
    assert (plan.due_on, plan.due_at) == (cast.days(3), None)
    assert refused(of_ring(cast.bruno()), "ring_later") == ("no_day",)


def test_talk_with_a_sitter_and_a_message_to_one_who_is_only_written_to() -> None:
    danuta = cast.danuta()
    typed(of_ring(danuta), "spoke")
    danuta.refresh_from_db()
    assert danuta.last_talk_on == YESTERDAY
    daud = cast.daud()
    daud.text_only = True
    daud.save()
    typed(of_ring(daud), "no_answer")
    assert daud.calls.exclude(outcome="").get().kind == "message"


def test_never_again_acts_and_the_day_to_undo_a_slip_begins_with_the_typing() -> None:
    daud = cast.daud()
    typed(of_ring(daud), "never_again")
    assert Participant.objects.get(code="42").standing == "never_ring"
    assert NeverRing.objects.get().at == cast.moment()
    assert daud.calls.get(outcome="never_again").at == cast.moment(YESTERDAY, 10, 40)


def test_no_of_one_who_is_let_go_meanwhile_is_the_only_thing_stored() -> None:
    daud = cast.daud()
    one = of_ring(daud)
    Participant.objects.filter(code="42").update(standing="let_go")
    one = DayLine.objects.get(pk=one.pk)
    assert refused(one, "thinking") == ("may_not_be_rung",)
    assert not Call.objects.exclude(outcome="").exists()


def test_meeting_that_was_held_had_been_confirmed() -> None:
    edelmira = cast.edelmira()
    for state, came, expected in (
        ("fixed", "held", "held"),
        ("fixed", "confirmed", "confirmed"),
        ("fixed", "nobody_came", "nobody_came"),
        ("confirmed", "held", "held"),
        ("confirmed", "moved", "moved"),
        ("confirmed", "called_off", "called_off"),
    ):
        at = cast.moment(YESTERDAY, 14)
        one = Meeting.objects.create(person=edelmira, state=state, at=at, exit_signal="a cup")
        typed(line("meeting", edelmira, one.pk), came, hour=None)
        one.refresh_from_db()
        assert one.state == expected


def test_meeting_that_cannot_go_there_is_told() -> None:
    edelmira = cast.edelmira()
    one = Meeting.objects.create(person=edelmira, state="fixed", at=cast.moment(hour=14))
    assert refused(line("meeting", edelmira, one.pk), "held") == ("not_yet",)
    one.refresh_from_db()
    assert one.state == "fixed", "half of two presses is none"


def test_print_is_moved_on_its_day_and_only_from_the_round() -> None:
    row = a_print(cast.lucas(), "out_on_a_round", is_safe=True)
    typed(line("door", row.person, row.pk), "in_hand", hour=None)
    assert Step.objects.get(print=row, became="in_hand").on == YESTERDAY
    assert refused(line("door", row.person, row.pk), "not_home") == ("moved_meanwhile",)


def test_stop_that_was_heard_acts_at_once_on_whoever_was_written() -> None:
    danuta, bruno, daud = cast.danuta(), cast.bruno(), cast.daud()
    typed(line("stop"), "all", hour=None, whose=danuta)
    taken = TakenBack.objects.get()
    assert (taken.scope, taken.said_on, taken.heard_at) == ("all", YESTERDAY, cast.moment())
    typed(line("stop"), "hold", whose=bruno)
    hold = open_hold(bruno)
    assert hold is not None and hold.laid_at == cast.moment()
    typed(line("stop"), "never", whose=daud)
    assert Participant.objects.get(code="42").standing == "never_ring"
    assert refused(line("stop"), "all") == ("nobody",)


def test_what_has_not_come_yet_is_not_stored() -> None:
    one = of_ring(cast.daud())
    with pytest.raises(Refused, match="not_come_yet"):
        type_in(line=one, written=Written("off", cast.days(1)), by=cast.assistant())


def test_one_line_that_cannot_be_keeps_no_other_out() -> None:
    good, bad = of_ring(cast.daud()), of_ring(cast.bruno())
    lines = [(one, Written(came, YESTERDAY, time(10)))
             for one, came in ((bad, "ring_later"), (good, "off"))]  # fmt: skip
    stored, told = type_in_all(lines, by=cast.assistant())
    assert stored == [good.number]
    assert {number: no.codes for number, no in told.items()} == {bad.number: ("no_day",)}
