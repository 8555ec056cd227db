"""A digest changes with every input of an answer, and with nothing else."""

from dataclasses import replace
from datetime import date

import pytest

from relations.consent.values import Form, NameForm, Person, Picture, Plan, Sitter, Use, Wish
from relations.people.values import Birth, Risk
from relations.pictures.values import Recognisable
from relations.uses.digest import digest, digests

DAY = date(2026, 5, 20)
FORM = Form(DAY, frozenset({"s1"}), frozenset({Use.BOOK, Use.EXHIBITION, Use.WEB}))
PERSON = Person("01", birth=Birth(DAY, DAY), forms=(FORM,), speaker_yes={Use.BOOK: DAY})
PICTURE = Picture("p1", "s1", DAY, (Sitter("01", Recognisable.YES),))
PLAN = Plan(Use.EXHIBITION, DAY, countries=frozenset({"FR", "BE"}), names={"01": NameForm.FULL})
SAME = digest(PICTURE, {"01": PERSON}, PLAN)


def test_digest_is_one_for_equal_inputs_in_any_order():
    turned = replace(FORM, uses=frozenset(sorted(FORM.uses, reverse=True)))
    plan = replace(PLAN, countries=frozenset({"BE", "FR"}))
    assert digest(PICTURE, {"01": replace(PERSON, forms=(turned,))}, plan) == SAME
    assert len(SAME) == 64


@pytest.mark.parametrize(
    "person",
    [
        replace(PERSON, risk=Risk.GRAVE),
        replace(PERSON, last_talk_on=DAY),
        replace(PERSON, taken_back={"all": DAY}),
        replace(PERSON, forms=()),
        replace(PERSON, forms=(replace(FORM, if_died=Wish.STOP),)),
        replace(PERSON, birth=None),
    ],
)
def test_digest_changes_with_what_is_known_of_a_sitter(person):
    assert digest(PICTURE, {"01": person}, PLAN) != SAME


def test_digest_changes_with_the_picture_and_the_plan():
    assert digest(replace(PICTURE, words="new"), {"01": PERSON}, PLAN) != SAME
    assert digest(PICTURE, {"01": PERSON}, replace(PLAN, ends_on=DAY)) != SAME
    assert digest(PICTURE, {"01": PERSON}, replace(PLAN, names={"01": NameForm.NONE})) != SAME


def test_digest_does_not_change_with_those_who_are_not_in_the_frame():
    plan = replace(PLAN, names={"01": NameForm.FULL, "02": NameForm.FIRST})
    assert digest(PICTURE, {"01": PERSON, "02": Person("02")}, plan) == SAME


def test_digest_does_not_change_with_forms_that_speak_of_other_sittings():
    elsewhere = replace(FORM, sittings=frozenset({"s2"}))
    wider = replace(FORM, sittings=frozenset({"s1", "s2"}))
    assert digest(PICTURE, {"01": replace(PERSON, forms=(elsewhere, wider))}, PLAN) == SAME
    assert digest(PICTURE, {"01": replace(PERSON, forms=(elsewhere,))}, PLAN) != SAME


def test_picture_with_a_plan_of_its_own_has_a_digest_of_its_own():
    mine = replace(PLAN, shows_captions=False)
    everybody = {"01": PERSON}
    one, other = digests([PICTURE, replace(PICTURE, id="p2")], everybody, PLAN, {"p2": mine})
    assert one == SAME
    assert other == digest(replace(PICTURE, id="p2"), everybody, mine)
