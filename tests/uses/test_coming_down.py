"""What must come down without a stop is worked out on looking, and goes when its reason goes."""

from datetime import date, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from relations.consent.actions import speaker_says, take_back
from relations.consent.models import Form
from relations.people import actions as people
from relations.people.models import Participant
from relations.pictures import actions as of_pictures
from relations.uses import actions, coming_down
from relations.uses.causes import Because
from relations.uses.models import UndoLine
from tests.consent.register import AT
from tests.uses import plans

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def register():
    return plans.demo()


def person(code: str) -> Participant:
    return Participant.objects.get(code=code)


def down(at=AT) -> list[tuple[str, str, str]]:
    """The person, the line and why, of everything that waits."""
    found = coming_down.waiting(coming_down.lines(Participant.objects.all(), at))
    return [(line.person.code, line.code, line.because) for line in found]


def hold(code: str, at=AT):
    return people.hold(person=person(code), by=plans.artist(), at=at)


def test_a_hold_takes_down_what_is_shown_until_it_is_lifted():
    plans.shown("U1", "web", "K12", "K01")
    assert down() == []
    laid = hold("12")
    assert down() == [("12", "take_down", Because.HOLD)]
    assert UndoLine.objects.count() == 0
    people.lift(hold=laid, sentence="A rumour.", by=plans.artist(), at=AT)
    assert down() == []


def test_a_hold_on_the_picture_speaks_of_everybody_in_it():
    plans.shown("U1", "web", "K15")
    (picture,) = plans.pictures("K15")
    of_pictures.hold(picture=picture, by=plans.artist(), at=AT)
    assert down() == [(code, "take_down", Because.HOLD) for code in ("15", "16")]


def test_an_arrest_takes_down_until_the_speaker_says_yes_to_this_use(register):
    plans.shown("U1", "exhibition", "K17")
    by, day = plans.artist(), AT.date()
    assert down() == [("17", "cover", Because.AWAY)]
    people.name_speaker(person=person("17"), on=day, by=by, name="A sister")
    speaker_says(person=person("17"), use="exhibition", is_yes=True, on=day, by=by)
    assert down() == []
    speaker_says(person=person("17"), use="exhibition", is_yes=False, on=day, by=by)
    assert down() == [("17", "cover", Because.AWAY)]


def test_who_answers_again_is_shown_again_and_what_was_done_stays_written():
    plans.shown("U1", "exhibition", "K17")
    plans.shown("U2", "web", "K17")
    by = plans.artist()
    first, second = coming_down.waiting(coming_down.lines(Participant.objects.all(), AT))
    actions.undo_done(line=first, on=AT.date(), by=by)
    actions.told_holder(line=second, on=AT.date(), by=by)
    assert down() == [("17", second.code, Because.AWAY)]
    people.note_condition(person=person("17"), condition="well", condition_on=None, by=by, at=AT)
    assert down() == []
    kept = coming_down.lines(Participant.objects.all(), AT)
    assert [(line.pk, line.done_on) for line in kept] == [(first.pk, AT.date())]


def test_a_line_has_the_same_key_on_every_look_and_is_kept_once():
    plans.shown("U1", "web", "K12")
    hold("12")
    (line,) = coming_down.waiting(coming_down.lines(Participant.objects.all(), AT))
    later = AT + timedelta(hours=2)
    (again,) = coming_down.waiting(coming_down.lines(Participant.objects.all(), later))
    assert line.pk == again.pk
    for one in (line, again):
        actions.told(line=one, on=AT.date(), by=plans.artist())
    assert UndoLine.objects.count() == 1


def test_a_no_after_a_hold_keeps_the_line_when_the_hold_is_lifted():
    plans.shown("U1", "web", "K12")
    by, laid = plans.artist(), hold("12")
    for line in coming_down.lines(Participant.objects.all(), AT):
        actions.told_holder(line=line, on=AT.date(), by=by)
    take_back(person=person("12"), scope="all", said_on=AT.date(), by=by, at=AT)
    assert actions.open_undo(person=person("12"), by=by, at=AT) == []
    people.lift(hold=laid, sentence="A rumour.", by=by, at=AT)
    assert down() == [("12", "take_down", Because.TAKEN_BACK)]


def test_a_no_to_one_use_leaves_what_came_down_in_another_for_the_hold():
    plans.shown("U1", "web", "K12")
    plans.shown("U2", "exhibition", "K12")
    by, laid = plans.artist(), hold("12")
    for line in coming_down.lines(Participant.objects.all(), AT):
        for _twice in range(2):
            actions.told_holder(line=line, on=AT.date(), by=by)
    take_back(person=person("12"), scope="use", use="web", said_on=AT.date(), by=by, at=AT)
    actions.open_undo(person=person("12"), by=by, at=AT)
    people.lift(hold=laid, sentence="A rumour.", by=by, at=AT)
    assert down() == [("12", "take_down", Because.TAKEN_BACK)]


def test_a_hold_on_somebody_who_said_stop_adds_nothing():
    plans.shown("U1", "web", "K12")
    take_back(person=person("12"), scope="all", said_on=AT.date(), by=plans.artist(), at=AT)
    actions.open_undo(person=person("12"), by=plans.artist(), at=AT)
    before = down()
    hold("12")
    assert down() == before


def test_a_last_day_is_on_the_list_before_it_comes():
    plans.shown("U1", "web", "K12")
    Form.objects.filter(person=person("12")).update(last_day=AT.date() + timedelta(10))
    assert down() == [("12", "take_down", Because.ENDS)]
    (line,) = coming_down.waiting(coming_down.lines(Participant.objects.all(), AT))
    actions.undo_done(line=line, on=AT.date(), by=plans.artist())
    assert down() == []


def test_the_list_costs_as_many_queries_for_many_as_for_one():
    plans.shown("U1", "web", "K12")
    hold("12")
    with CaptureQueriesContext(connection) as one:
        coming_down.lines(Participant.objects.all(), AT)
    plans.shown("U2", "exhibition")
    plans.shown("U3", "web", starts_on=date(2026, 1, 1))
    with CaptureQueriesContext(connection) as many:
        assert len(coming_down.lines(Participant.objects.all(), AT)) > 10
    assert len(many) == len(one)
