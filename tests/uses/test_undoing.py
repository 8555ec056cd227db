"""After a stop: what must come down is listed in the same minute, each thing once."""

from datetime import date, timedelta

import pytest

from relations.consent.actions import take_back
from relations.people.models import Participant
from relations.privacy.refused import Refused
from relations.uses import actions
from relations.uses.models import UndoLine
from tests.consent.register import AT, Register
from tests.uses import plans

pytestmark = pytest.mark.django_db
LATER = AT + timedelta(days=30)


@pytest.fixture
def register() -> Register:
    return plans.demo()


def person(code: str) -> Participant:
    return Participant.objects.get(code=code)


def stop(code: str, scope: str = "all", at=AT, **what) -> list[tuple[str, str]]:
    by = plans.artist()
    take_back(person=person(code), scope=scope, said_on=at.date(), by=by, at=at, **what)
    return codes(actions.open_undo(person=person(code), by=by, at=at))


def codes(lines: list[UndoLine]) -> list[tuple[str, str]]:
    return [(line.shown.code, line.code) for line in lines]


def test_taking_everything_back_lists_every_use_soonest_first(register):
    plans.shown("U1", "exhibition", "K12")
    plans.shown("U2", "web", "K12", "K01")
    plans.shown("U3", "press", "K12")
    plans.shown("U4", "web", "K01")
    assert stop("12") == [
        ("U2", "take_down"),
        # Monday: two working days and two days end alike.
        ("U1", "off_wall"),
        ("U3", "ask_holder"),
        *[(code, "copies_by_others") for code in ("U1", "U2", "U3")],
    ]
    take_down = UndoLine.objects.get(code="take_down")
    assert take_down.due_at == AT + timedelta(hours=24)
    assert take_down.opened_at == AT


def test_a_wall_is_covered_at_once_where_the_risk_is_raised(register):
    Participant.objects.filter(code="12").update(level="raised")
    plans.shown("U1", "exhibition", "K12")
    assert stop("12")[0] == ("U1", "cover")
    assert UndoLine.objects.get(code="cover").due_at == AT


def test_taking_one_use_back_leaves_the_others_up(register):
    plans.shown("U1", "exhibition", "K12")
    plans.shown("U2", "web", "K12")
    assert stop("12", "use", use="web") == [("U2", "take_down"), ("U2", "copies_by_others")]


def test_taking_one_picture_back_leaves_the_other_pictures_up(register):
    plans.shown("U1", "web", "K01", "G01")
    (picture,) = plans.pictures("G01")
    assert stop("01", "picture", picture=picture) == [
        ("U1", "take_down"),
        ("U1", "copies_by_others"),
    ]
    assert {line.picture.code for line in UndoLine.objects.all()} == {"G01"}


def test_what_stands_on_the_list_is_not_put_there_again(register):
    plans.shown("U1", "web", "K12")
    assert stop("12", "use", use="web")
    assert stop("12") == []


def test_a_thing_that_is_done_comes_again_only_after_a_new_form(register):
    plans.shown("U1", "web", "K12")
    stop("12")
    line = UndoLine.objects.get(code="take_down")
    actions.undo_done(line=line, on=AT.date(), by=plans.artist())
    assert stop("12", at=LATER) == []
    form = plans.DEMO["people"][11]["forms"][-1]
    register.form(person("12"), {**form, "given_on": (AT + timedelta(days=5)).date().isoformat()})
    assert stop("12", at=LATER + timedelta(days=1)) == [("U1", "take_down")]


def test_a_form_given_since_and_standing_lets_the_picture_stay(register):
    plans.shown("U1", "web", "K12")
    by = plans.artist()
    take_back(person=person("12"), scope="all", said_on=date(2026, 6, 1), by=by, at=AT)
    form = plans.DEMO["people"][11]["forms"][-1]
    register.form(person("12"), {**form, "given_on": "2026-08-01"})
    assert actions.open_undo(person=person("12"), by=by, at=AT) == []


def test_nobody_who_took_nothing_back_has_a_list(register):
    plans.shown("U1", "web", "K12")
    assert actions.open_undo(person=person("12"), by=plans.artist(), at=AT) == []


def test_of_whom_nothing_is_shown_nothing_must_come_down(register):
    assert stop("12") == []


def test_a_line_is_done_once_and_told_once(register):
    plans.shown("U1", "web", "K12")
    stop("12")
    line, by, day = UndoLine.objects.get(code="take_down"), plans.artist(), AT.date()
    actions.undo_done(line=line, on=day, by=by, cannot=True)
    actions.undo_done(line=line, on=day + timedelta(1), by=by)
    actions.told(line=line, on=day, by=by)
    actions.told(line=line, on=day + timedelta(1), by=by)
    line.refresh_from_db()
    assert (line.done_on, line.cannot, line.done_by, line.told_them_on) == (day, True, by, day)


@pytest.mark.parametrize("act", [actions.undo_done, actions.told])
def test_nothing_is_undone_before_the_stop(register, act):
    plans.shown("U1", "web", "K12")
    stop("12")
    with pytest.raises(Refused, match="before_the_stop"):
        act(line=UndoLine.objects.first(), on=AT.date() - timedelta(1), by=plans.artist())
