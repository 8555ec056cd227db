"""What the pages of a plan say of its whole selection: talks, people, days to look again."""

from datetime import date, timedelta

import pytest

from relations.people.models import Participant, PersonHold
from relations.uses import actions, queries, selection
from relations.uses.talks import Talk
from tests.consent.register import AT
from tests.uses import plans

pytestmark = pytest.mark.django_db


def sheet(key, *codes, on=plans.TODAY):
    return selection.sheet(plans.plan(key, *codes), on)


def test_three_talks_of_the_book_are_due_from_one_day():
    plans.demo()
    found = sheet("B1")
    assert found.talks.enough.whole.talks == (Talk("10"), Talk("18"), Talk("20"))
    # Raised, and ink: sixty days before the press day of 18 January 2027.
    assert found.talks.due_from == date(2026, 11, 19)
    assert len(found.talks.agreed.whole.talks) == 11
    assert len(found.talks.agreed.whole.frees) == 11
    assert found.talks.is_more


def test_talk_counts_from_the_latest_day_on_which_it_counts_for_all():
    plans.demo()
    Participant.objects.filter(code="10").update(level="grave")
    Participant.objects.filter(code="18").update(level="")
    assert sheet("B1", "K10", "K18").talks.due_from == date(2027, 1, 4)


def test_where_nothing_waits_for_a_talk_nothing_is_due():
    plans.demo()
    found = sheet("E1", "K01")
    assert (found.talks.enough.whole.talks, found.talks.due_from) == ((), None)
    assert (found.talks.is_more, found.people) == (False, ())


def test_all_reasons_of_a_person_stand_together():
    plans.demo()
    lines = {line.about: line for line in sheet("B1").people}
    assert {code for code, _ in lines["13"].reasons} == {"CHECK-IN", "GUARDIAN", "USE"}
    assert lines["13"].frees == ("K13",)


def test_days_are_put_together_for_a_calendar_in_codes_alone():
    plans.demo()
    plan = plans.plan("E1", "K01", "K02", "K30")
    first, last = selection.days(plan, plans.TODAY)
    assert (first.first, first.more) == (date(2027, 1, 6), "K30")
    assert (last.first, last.more) == (date(2027, 4, 18), "K01 K02")
    assert (first.says, first.key) == (
        "Look again: E1",
        selection.days(plan, plans.TODAY)[0].key,
    )
    assert first.key != last.key


def test_next_look_into_a_hold_is_a_day_to_look_again_and_is_kept():
    plans.demo()
    plan, look = plans.plan("E1", "K35"), plans.TODAY + timedelta(days=8)
    (row,) = queries.weighed(plan, plans.TODAY)
    # A look that was due is on the list of today, not in the calendar.
    assert row.look_again_on == row.answer.look_again_on == date(2027, 4, 18)
    PersonHold.objects.update(next_look_on=look)
    (row,) = queries.weighed(plan, plans.TODAY)
    assert (row.look_again_on, row.answer.look_again_on) == (look, date(2027, 4, 18))
    (kept,) = actions.weigh(plan=plan, by=plans.artist(), at=AT)
    assert kept.look_again_on == look


def test_answer_goes_stale_by_itself_once_its_day_to_look_again_has_passed():
    plans.demo()
    plan, look = plans.plan("E1", "K35"), plans.TODAY + timedelta(days=8)
    PersonHold.objects.update(next_look_on=look)
    actions.weigh(plan=plan, by=plans.artist(), at=AT)
    assert selection.sheet(plan, look).stale == []
    after = look + timedelta(days=1)
    assert [row.picture for row in selection.sheet(plan, after).stale] == ["K35"]
    actions.weigh(plan=plan, by=plans.artist(), at=AT + timedelta(days=9))
    assert selection.sheet(plan, after).stale == []


def test_other_pictures_of_a_plan_leave_a_kept_answer_as_it_is():
    """A form nobody has read yet binds in all sittings that are asked for, and only there."""
    register = plans.demo()
    unread = plans.DEMO["people"][0]["forms"][0] | {"sittings": [], "filed": False}
    register.form(register.people["01"], unread | {"given_on": "2026-11-20"})
    plan = plans.plan("E1", "K01")
    actions.weigh(plan=plan, by=plans.artist(), at=AT)
    actions.ask_for(plan=plan, pictures=plans.pictures("G01", "K02"), by=plans.artist())
    assert selection.sheet(plan, plans.TODAY).stale == []
