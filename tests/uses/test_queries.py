"""A plan is weighed at once, with what was kept beside it, in a number of queries that stands."""

from datetime import timedelta

import pytest
from django.db import connection
from django.http import Http404
from django.test.utils import CaptureQueriesContext

from relations.consent.actions import take_back
from relations.people.models import Participant
from relations.pictures.models import Picture
from relations.uses import actions, coming_down, queries, selection
from relations.uses.models import UndoLine
from tests import cast
from tests.consent.register import AT
from tests.uses import plans

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(("key", "totals"), [("E1", (14, 2, 17)), ("B1", (9, 2, 22))])
def test_scenario_weighs_to_its_worked_answers(key, totals):
    plans.demo()
    sheet = selection.sheet(plans.plan(key), plans.TODAY)
    counted = (sheet.totals.cleared, sheet.totals.conditions, sheet.totals.not_cleared)
    assert counted == totals
    found = {row.picture: plans.comparable(queries.spelt(row.answer)) for row in sheet.rows}
    expected = plans.DEMO["expected"][key]
    assert found == {code: plans.comparable(answer) for code, answer in expected.items()}


def test_weighing_takes_eight_queries_whatever_the_number():
    plans.demo()
    counted = []
    for key, codes in (("E1", ("K01",)), ("B1", ())):
        plan = plans.plan(key, *codes)
        with CaptureQueriesContext(connection) as taken:
            assert len(queries.weighed(plan, plans.TODAY)) == (len(codes) or 33)
        counted.append(len(taken))
    assert counted == [8, 8]


def test_answers_that_were_kept_are_stale_once_anything_changed():
    plans.demo()
    plan = plans.plan("E1", "K01", "K02")
    actions.weigh(plan=plan, by=plans.artist(), at=AT)
    assert selection.sheet(plan, plans.TODAY).stale == []
    Picture.objects.filter(code="K02").update(alt_text="a chair by the window")
    sheet = selection.sheet(plan, plans.TODAY)
    assert [row.picture for row in sheet.stale] == ["K02"]
    actions.weigh(plan=plan, by=plans.artist(), at=AT + timedelta(hours=1))
    sheet = selection.sheet(plan, plans.TODAY)
    assert (sheet.stale, sheet.not_kept) == ([], 0)
    assert sheet.kept_at == AT + timedelta(hours=1)


def test_an_answer_is_stale_too_when_only_the_day_has_changed_it():
    plans.demo()
    plan = plans.plan("E1", "K30")
    actions.weigh(plan=plan, by=plans.artist(), at=AT)
    later = plans.TODAY + timedelta(days=60)
    assert [row.picture for row in selection.sheet(plan, later).stale] == ["K30"]


def test_what_was_asked_for_since_was_never_kept():
    plans.demo()
    plan = plans.plan("E1", "K01")
    assert selection.sheet(plan, plans.TODAY).not_kept == 1
    actions.weigh(plan=plan, by=plans.artist(), at=AT)
    actions.ask_for(plan=plan, pictures=plans.pictures("K02"), by=plans.artist())
    sheet = selection.sheet(plan, plans.TODAY)
    assert (sheet.not_kept, sheet.stale) == (1, [])


def test_taken_back_weighs_so_in_every_plan_at_once():
    plans.demo()
    both = [plans.plan("E1", "K12"), plans.plan("B1", "K12")]
    person = Participant.objects.get(code="12")
    take_back(person=person, scope="all", said_on=AT.date(), by=plans.artist(), at=AT)
    for plan in both:
        (row,) = queries.weighed(plan, plans.TODAY)
        assert ("12", "WITHDRAWN") in {(one.about, one.code) for one in row.answer.stops}


def test_call_names_are_read_only_of_those_a_reason_is_about():
    plans.demo()
    sheet = selection.sheet(plans.plan("E1", "K01", "K07"), plans.TODAY)
    assert set(sheet.names) == {"07"}


def test_a_plan_is_found_in_any_letters_or_not_at_all():
    plan = actions.plan(code="E9", use="web", starts_on=plans.TODAY, by=cast.artist())
    assert queries.plan_or_404("e9") == plan
    with pytest.raises(Http404):
        queries.plan_or_404("E8")


def test_plans_count_their_pictures_and_leave_out_what_was_given_up():
    plans.demo()
    plan = plans.plan("E1", "K01", "K02")
    actions.leave_out(plan=plan, pictures=plans.pictures("K01"), by=plans.artist(), on=plans.TODAY)
    assert [found.amount for found in queries.plans()] == [1]
    actions.drop(plan=plan, by=plans.artist(), on=plans.TODAY)
    assert not queries.plans()


def test_sitters_of_a_plan_come_once_with_how_they_are_named():
    plans.demo()
    plan = plans.plan("E1", "K01", "G01")
    found = [(person.code, named) for person, named in queries.sitters_of(plan)]
    assert found[0] == ("01", "full")
    assert [code for code, _ in found] == ["01", "02", "07", "08", "09"]


def test_undo_lines_are_of_people_in_sight_only():
    plans.demo()
    plans.shown("U1", "web", "K12")
    person = Participant.objects.get(code="12")
    take_back(person=person, scope="all", said_on=AT.date(), by=plans.artist(), at=AT)
    actions.open_undo(person=person, by=plans.artist(), at=AT)
    hand = cast.assistant()
    assert not queries.undo_lines(hand)
    cast.in_sight(person, hand)
    assert len(queries.undo_lines(hand)) == 2
    assert [line.code for line in coming_down.waiting(queries.undo_lines(hand))] == ["take_down"]
    other = Participant.objects.get(code="01")
    with pytest.raises(Http404):
        queries.undo_line_or_404(hand, other, UndoLine.objects.first().pk)


def test_parts_go_by_how_far_our_hand_reaches_and_say_each_sentence_once():
    plans.demo()
    plans.shown("U1", "web", "K12")
    plans.shown("U2", "press", "K12")
    person = Participant.objects.get(code="12")
    take_back(person=person, scope="all", said_on=AT.date(), by=plans.artist(), at=AT)
    actions.open_undo(person=person, by=plans.artist(), at=AT)
    parts = queries.parts(queries.undo_lines(plans.artist(), person))
    assert [part.force for part in parts] == ["forced", "asked", "cannot"]
    assert list(parts[2].sentences) == ["copies_by_others"]
    assert len(parts[2].lines) == 2


def test_only_an_assistant_picks_from_sight():
    cast.in_sight(cast.danuta(), cast.assistant())
    assert queries.to_pick(cast.assistant()) == [cast.danuta()]
    assert queries.to_pick(cast.artist()) == [] == queries.to_pick(cast.keeper())
