"""What the register holds weighs the same as the plain values it was entered from."""

import json
from datetime import date
from pathlib import Path

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from relations.consent import frames, queries, rules
from relations.consent.answers import Code, Reason
from relations.consent.models import Form, SpeakerAnswer, TakenBack
from relations.consent.queries import load
from relations.consent.states import State as FormState
from relations.consent.values import NameForm, Plan, Use
from relations.pictures.models import Picture
from tests.consent import casefile
from tests.consent.fields import Fields
from tests.consent.register import AT, EVER, Register, user

CASES = Path(__file__).parent.parent / "cases"
CLEARING = json.loads((CASES / "clearing.json").read_text(encoding="utf-8"))
DEMO = json.loads((CASES / "demo.json").read_text(encoding="utf-8"))
TODAY = date(2026, 11, 23)

pytestmark = pytest.mark.django_db


def demo_plan(key):
    """A planned use of the demo, everybody named as their newest form asks."""
    with Fields(DEMO["planned_uses"][key], "planned_use") as f:
        f.unread.clear()
        return Plan(
            use=f.code("use", Use),
            starts_on=f.day("starts_on"),
            countries=casefile.countries(f),
            ends_on=f.or_none(f.day, "ends_on"),
            names={
                person["code"]: NameForm(person["forms"][-1]["name_form"])
                for person in DEMO["people"]
                if person["forms"]
            },
        )


@pytest.fixture
def demo():
    register = Register(user())
    register.enter(DEMO["people"], DEMO["pictures"])
    return register


@pytest.mark.parametrize("case", CLEARING, ids=lambda case: str(case["n"]))
def test_case_entered_into_the_register_gets_its_worked_answer(case):
    Register(user()).enter(case["people"], [case["picture"]])
    today = date.fromisoformat(case["today"])
    found = load(Picture.objects.filter(code=case["picture"]["id"]), today)
    plan = casefile.plan(case["planned_use"])
    answer = rules.weigh(found.pictures[0], found.people, plan, today=today)
    assert casefile.comparable(answer) == casefile.expected(case["expect"])


@pytest.mark.parametrize("key", ["E1", "B1"])
def test_demo_entered_into_the_register_gets_its_worked_answers(demo, key):
    found = load(Picture.objects.all(), TODAY)
    plan = demo_plan(key)
    answers = {
        picture.id: rules.weigh(picture, found.people, plan, today=TODAY)
        for picture in found.pictures
    }
    wanted = {code: casefile.expected(expected) for code, expected in DEMO["expected"][key].items()}
    assert {code: casefile.comparable(answer) for code, answer in answers.items()} == wanted


def test_queries_do_not_grow_with_the_pictures(demo):
    counted = []
    for amount in (1, 33):
        keys = Picture.objects.values_list("pk", flat=True)[:amount]
        keys = list(keys)
        with CaptureQueriesContext(connection) as taken:
            assert len(load(keys, TODAY).pictures) == amount
        counted.append(len(taken))
    assert counted == [7, 7]


def test_many_are_found_by_their_rows_and_few_by_their_keys_alike(demo, monkeypatch):
    SpeakerAnswer.objects.create(
        person=demo.people["17"], use="exhibition", is_yes=True, said_on=TODAY
    )
    took_back(demo, Picture.objects.get(code="K12"), TODAY)
    by_keys = load(Picture.objects.all(), TODAY)
    for module in (queries, frames):
        monkeypatch.setattr(module, "FEW", 0)
    with CaptureQueriesContext(connection) as taken:
        by_rows = load(Picture.objects.all(), TODAY)
    assert by_rows == by_keys
    assert (len(by_rows.pictures), len(taken)) == (33, 7)
    some = Picture.objects.filter(code__in=["K03", "G01"])
    assert set(load(some, TODAY).people) == {"01", "02", "03", "07", "08", "09"}


def test_hold_says_when_it_is_looked_into(demo):
    found = load(Picture.objects.all(), TODAY)
    assert found.people["35"].is_on_hold
    assert found.people["35"].next_look_on == EVER
    assert (found.people["01"].is_on_hold, found.people["01"].next_look_on) == (False, None)


def test_agreed_name_is_opened_where_the_form_asks_for_it(demo):
    found = load(Picture.objects.all(), TODAY)
    assert found.people["21"].forms[-1].agreed_name == "Lia"
    assert found.people["01"].forms[-1].agreed_name is None


def test_no_picture_asks_for_nobody():
    assert load([], TODAY) == ([], {})


def one(demo, code="K12"):
    return Form.objects.get(person__code="12"), Picture.objects.get(code=code)


def weighed(picture, use=Use.EXHIBITION, on=TODAY):
    found = load([picture.pk], on)
    plan = Plan(use, date(2027, 2, 5), frozenset({"FR"}), date(2027, 4, 18))
    answer = rules.weigh(found.pictures[0], found.people, plan, today=on)
    return {reason.code for reason in answer.stops}


def test_paper_that_is_here_but_unread_narrows_in_every_sitting(demo):
    _, picture = one(demo)
    assert weighed(picture) == set()
    unread = {"given_on": "2026-11-20", "sittings": [], "uses": [], "filed": False}
    newer = demo.form(demo.people["12"], DEMO["people"][11]["forms"][0] | unread)
    assert weighed(picture) == {Code.USE}
    for state in (FormState.LEFT_WITH_THEM, FormState.SPOILT):
        Form.objects.filter(pk=newer.pk).update(state=state)
        assert weighed(picture) == set()


def test_blank_form_without_a_day_is_no_form(demo):
    form, picture = one(demo)
    Form.objects.filter(pk=form.pk).update(given_on=None)
    assert Code.NO_FORM in weighed(picture)


def test_form_that_is_not_settled_is_not_filed(demo):
    form, picture = one(demo)
    Form.objects.filter(pk=form.pk).update(settled_at=None)
    assert weighed(picture) == {Code.NOT_FILED}


def test_form_without_a_scan_is_not_filed(demo):
    form, picture = one(demo)
    form.sheet.scans.all().delete()
    assert weighed(picture) == {Code.NOT_FILED}


def test_form_nobody_has_looked_at_is_incomplete(demo):
    form, picture = one(demo)
    Form.objects.filter(pk=form.pk).update(missing_lines=None)
    assert weighed(picture) == {Code.INCOMPLETE}


def took_back(demo, picture, said_on):
    return TakenBack.objects.create(
        person=demo.people["12"],
        scope="picture",
        picture=picture,
        said_on=said_on,
        heard_at=AT,
        heard_by=demo.by,
        answer_due_on=said_on,
    )


def test_picture_taken_back_is_refused_on_the_forms_given_before(demo):
    _, picture = one(demo)
    heard = took_back(demo, picture, TODAY)
    assert weighed(picture) == {Code.NOT_THIS_ONE}
    TakenBack.objects.filter(pk=heard.pk).update(said_on=date(2020, 1, 1))
    assert weighed(picture) == set()


def test_last_word_of_a_speaker_counts_and_one_of_tomorrow_does_not(demo):
    person = demo.people["17"]
    for on, is_yes in ((date(2026, 11, 1), True), (TODAY, False), (date(2026, 11, 24), True)):
        SpeakerAnswer.objects.create(person=person, use="exhibition", is_yes=is_yes, said_on=on)
    picture = Picture.objects.filter(appearances__person=person).first()
    assert load([picture.pk], date(2026, 11, 22)).people["17"].speaker_yes == {
        Use.EXHIBITION: date(2026, 11, 1)
    }
    assert load([picture.pk], TODAY).people["17"].speaker_yes == {}
    assert (
        Reason("17", Code.AWAY)
        in rules.weigh(
            load([picture.pk], TODAY).pictures[0],
            load([picture.pk], TODAY).people,
            demo_plan("E1"),
            today=TODAY,
        ).stops
    )


def test_yes_to_a_caption_of_one_picture_says_nothing_of_another(demo):
    person = next(p for p in DEMO["people"] if any(f["captions_accepted"] for f in p["forms"]))
    form = load(Picture.objects.all(), TODAY).people[person["code"]].forms[-1]
    assert all("/" in caption for caption in form.captions_accepted)
    assert form.captions_accepted
