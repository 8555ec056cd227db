"""Weighed together, pictures get the very answers that each gets alone."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from relations.consent import rules
from relations.consent.answers import Code, Result
from relations.consent.values import Form, Person, Picture, Plan, Quote, Sitter, Use
from relations.consent.weighing import weigh_all
from relations.pictures.values import Others, PlaceWord, Recognisable

from . import chance
from .casefile import comparable, load, parts
from .strategies import EVERYBODY, PICTURES, PLANS, TODAY, sixty_times
from .test_queries import CASES

CLEARING = load(CASES / "clearing.json")
# A whole sitting and another, the frames of which differ here and there.
SELECTIONS = st.lists(
    st.builds(
        lambda picture, number, sitting: replace(picture, id=f"p{number}", sitting=sitting),
        PICTURES,
        st.integers(1, 4),
        st.sampled_from(["s1", "s1", "s2"]),
    ),
    max_size=8,
)


def alone(pictures: Sequence[Picture], everybody, plan: Plan):
    return [rules.weigh(one, everybody, plan, today=TODAY) for one in pictures]


def together(pictures: Sequence[Picture], everybody, plan: Plan):
    return weigh_all(pictures, everybody, plan, today=TODAY)


@pytest.mark.parametrize("case", CLEARING, ids=lambda case: str(case["n"]))
def test_every_case_of_the_file_weighs_the_same_among_its_likes(case):
    """Beside the case's own picture one that is alike and one that differs, so that a part found
    for one is used for, or kept from, the others."""
    wanted, (picture, everybody, plan, today) = parts(case)
    likes = [
        picture,
        replace(picture, id="alike"),
        replace(picture, id="other", sitters=picture.sitters[::-1], place_word=PlaceWord.EXACT),
        picture,
    ]
    found = weigh_all(likes, everybody, plan, today=today)
    assert comparable(found[0]) == comparable(found[3]) == wanted
    assert found == [rules.weigh(one, everybody, plan, today=today) for one in likes]


SEEDS = st.integers(0, 2**64 - 1)


@sixty_times
@given(SELECTIONS, EVERYBODY, PLANS)
def test_chance_selections_weigh_together_as_alone(pictures, everybody, plan):
    assert together(pictures, everybody, plan) == alone(pictures, everybody, plan)


@settings(max_examples=2_000)
@given(SEEDS)
def test_2000_registers_weigh_together_as_alone(seed):
    register = chance.register(seed)
    assert together(*register) == alone(*register)


@pytest.mark.long
@settings(max_examples=50_000)
@given(SEEDS)
def test_50000_registers_weigh_together_as_alone(seed):
    register = chance.register(seed)
    assert together(*register) == alone(*register)


def test_chance_registers_get_every_answer_and_every_reason():
    """Else their being equal would show little."""
    found = [answer for seed in range(600) for answer in together(*chance.register(seed))]
    assert Counter(one.result for one in found).keys() == set(Result)
    seen = {reason.code for one in found for reason in (*one.stops, *one.conditions)}
    assert set(Code) - seen == set()


PLAN = Plan(Use.EXHIBITION, TODAY)
FORM = Form(TODAY, frozenset({"s1"}), frozenset({Use.EXHIBITION}), True, True, True)


def signed_by_anna(form: Form):
    return {"a": Person("a", met_as_adult=True, forms=(form,))}


FRAME = Picture("p1", "s1", TODAY, (Sitter("a", Recognisable.YES),), Others.NONE)


def test_nothing_to_weigh_is_no_answer():
    assert weigh_all([], {}, PLAN, today=TODAY) == []


def test_frame_without_a_sitter_is_asked_about_all_the_same():
    empty, held = replace(FRAME, sitters=()), replace(FRAME, sitters=(), is_on_hold=True)
    assert together([empty, held], {}, PLAN) == alone([empty, held], {}, PLAN)


def test_picture_with_a_plan_of_its_own_is_weighed_by_that_plan():
    anna, later = signed_by_anna(FORM), replace(PLAN, use=Use.BOOK)
    twice = [FRAME, replace(FRAME, id="p2")]
    found = weigh_all(twice, anna, PLAN, today=TODAY, own={"p2": later})
    assert found == [*alone(twice[:1], anna, PLAN), *alone(twice[1:], anna, later)]
    assert found[0].stops != found[1].stops


def test_sitter_of_whom_nothing_is_known_stops_the_whole():
    with pytest.raises(KeyError):
        together([FRAME], {}, PLAN)


def test_rule_is_asked_once_for_a_sitting_and_again_for_what_differs(monkeypatch):
    asked = []
    weigh_sitter = rules.weigh_sitter
    monkeypatch.setattr(
        rules, "weigh_sitter", lambda *said: (asked.append(said[0].picture), weigh_sitter(*said))
    )
    anna = signed_by_anna(FORM)
    quoted = replace(FRAME, id="p4", quotes=(Quote("q1", "a"),))
    together([FRAME, replace(FRAME, id="p2"), replace(FRAME, id="p3")], anna, PLAN)
    assert [one.id for one in asked] == ["p1"]
    together([FRAME, quoted, quoted], anna, PLAN)
    assert [one.id for one in asked] == ["p1", "p1", "p4", "p4"]
    asked.clear()
    together([FRAME, FRAME], signed_by_anna(replace(FORM, shows_first=True)), PLAN)
    assert len(asked) == 2
