"""The weighing gives every reason, in the worked cases, in the demo and by chance."""

import json
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from relations.consent.answers import NEXT_ACTION, Answer, Code, NextAction, Result
from relations.consent.rules import binding, is_taken_back, weigh
from relations.consent.values import (
    ALL,
    Decision,
    Form,
    NameForm,
    Person,
    Picture,
    Plan,
    Quote,
    Sitter,
    Use,
    Windows,
    Wish,
)
from relations.people.values import Birth, Condition, Risk
from relations.pictures.values import Others, PlaceWord, Recognisable

from . import casefile, strategies

CASES = Path(__file__).parent.parent / "cases"
CLEARING = json.loads((CASES / "clearing.json").read_text(encoding="utf-8"))
DEMO = json.loads((CASES / "demo.json").read_text(encoding="utf-8"))
TODAY = strategies.TODAY


@pytest.mark.parametrize("case", CLEARING, ids=lambda case: f"{case['n']} {case['title']}")
def test_worked_case_is_weighed_as_expected(case: Any) -> None:
    wanted, answer = casefile.weigh_case(case)
    assert casefile.comparable(answer) == wanted


def demo_person(found: dict[str, Any]) -> Person:
    """A person of the demo, without the keys that the weighing does not know."""
    own = {"name", "romanised", "community", "languages", "reads", "phone", "standing"}
    own |= {"introduced_by", "heard_on"}
    return casefile.person({key: value for key, value in found.items() if key not in own})


def demo_answers(use: str) -> dict[str, Answer]:
    """Every picture of the demo weighed for one planned use, named as newest forms ask."""
    people = {person.code: person for person in map(demo_person, DEMO["people"])}
    newest = {
        code: max(person.forms, key=lambda form: form.given_on).name_form
        for code, person in people.items()
        if person.forms
    }
    plan = replace(casefile.plan(DEMO["planned_uses"][use]), names=newest)
    pictures = [
        casefile.picture({key: value for key, value in found.items() if key != "sheets"})
        for found in DEMO["pictures"]
    ]
    today = date.fromisoformat(DEMO["today"])
    return {picture.id: weigh(picture, people, plan, today=today) for picture in pictures}


@pytest.mark.parametrize(("use", "totals"), [("E1", [14, 2, 17]), ("B1", [9, 2, 22])])
def test_demo_is_weighed_as_computed_elsewhere(use: str, totals: list[int]) -> None:
    answers = demo_answers(use)
    wanted = {name: casefile.expected(found) for name, found in DEMO["expected"][use].items()}
    assert {name: casefile.comparable(answer) for name, answer in answers.items()} == wanted
    results = [answer.result for answer in answers.values()]
    assert [results.count(result) for result in Result] == totals


FORM = Form(
    given_on=date(2026, 5, 20),
    sittings=frozenset({"s1"}),
    uses=frozenset({Use.EXHIBITION, Use.BOOK}),
    is_filed=True,
    is_read=True,
    is_complete=True,
    name_form=NameForm.FULL,
    place_word=PlaceWord.CITY,
)
ADULT = Person(
    "a", met_as_adult=True, risk=Risk.ORDINARY, last_talk_on=date(2026, 10, 1), forms=(FORM,)
)
FRAME = Picture(
    "p1",
    "s1",
    date(2026, 5, 14),
    (Sitter("a", Recognisable.YES),),
    Others.NONE,
    caption="c1",
    place_word=PlaceWord.COUNTRY,
)
WALL = Plan(
    Use.EXHIBITION,
    date(2027, 2, 5),
    frozenset({"FR"}),
    date(2027, 4, 18),
    names={"a": NameForm.FULL},
)
CHILD = replace(
    ADULT,
    birth=Birth.on(date(2012, 3, 1)),
    met_as_adult=False,
    forms=(replace(FORM, guardians_yes=2, childs_yes=True),),
)


def codes(
    picture: Picture = FRAME, person: Person = ADULT, plan: Plan = WALL, **form: Any
) -> set[str]:
    """The codes of the answer, conditions marked ~, with the last form changed as said."""
    if form:
        person = replace(person, forms=(*person.forms[:-1], replace(person.forms[-1], **form)))
    answer = weigh(picture, {person.code: person}, plan, today=TODAY)
    return {reason.code for reason in answer.stops} | {f"~{r.code}" for r in answer.conditions}


def test_plain_yes_clears() -> None:
    assert codes() == set()
    assert codes(person=CHILD) == set()


def test_picture_refused_stops() -> None:
    assert codes(pictures_refused=frozenset({"p1"})) == {"NOT-THIS-ONE"}


@pytest.mark.parametrize("use", Use)
def test_picture_with_somebody_erased_in_it_is_cleared_for_no_use(use: Use) -> None:
    """Worked by hand: nothing else stands against it, and nobody can say yes for who is gone."""
    erased = replace(FRAME, others=Others.ERASED)
    agreed = replace(ADULT, forms=(replace(FORM, uses=frozenset(Use)),))
    answer = weigh(erased, {"a": agreed}, replace(WALL, use=use), today=TODAY)
    assert answer.result is Result.NOT_CLEARED
    assert (erased.id, Code.ERASED) in answer.stops
    assert NEXT_ACTION[Code.ERASED] is NextAction.NONE


def test_span_beyond_the_last_day_runs_over_but_ink_does_not() -> None:
    assert codes(last_day=date(2027, 4, 17)) == {"RUNS-OVER"}
    book = replace(WALL, use=Use.BOOK)
    assert codes(plan=book, last_day=date(2027, 4, 17)) == set()
    assert codes(plan=replace(WALL, is_one_day=True), last_day=WALL.starts_on) == set()


def test_day_before_the_start_has_ended_even_where_the_end_is_open() -> None:
    assert codes(plan=replace(WALL, ends_on=None), last_day=date(2027, 2, 4)) == {"ENDED"}


@pytest.mark.parametrize(
    ("shown", "asked", "found"),
    [
        ("full", "full", set()), ("first", "full", {"~NAMED-LESS"}),
        ("pseudonym", "full", {"NAME"}),
        ("none", "full", {"~NAMED-LESS"}), ("full", "first", {"NAME"}), ("first", "first", set()),
        ("pseudonym", "first", {"NAME"}), ("none", "first", {"~NAMED-LESS"}),
        ("full", "pseudonym", {"NAME"}), ("first", "pseudonym", {"NAME"}),
        ("pseudonym", "pseudonym", set()), ("none", "pseudonym", {"~NAMED-LESS"}),
        ("full", "none", {"NAME"}), ("first", "none", {"NAME"}),
        ("pseudonym", "none", {"NAME"}), ("none", "none", set()),
    ],
)  # fmt: skip
def test_name_shown_against_name_asked(shown: str, asked: str, found: set[str]) -> None:
    plan = replace(WALL, names={"a": NameForm(shown)})
    assert codes(plan=plan, name_form=NameForm(asked)) == found


def test_nobody_named_in_the_plan_is_shown_without_a_name() -> None:
    assert codes(plan=replace(WALL, names={})) == {"~NAMED-LESS"}


def test_agreed_name_must_be_one() -> None:
    plan = replace(WALL, names={"a": NameForm.PSEUDONYM})
    old = replace(FORM, name_form=NameForm.PSEUDONYM, agreed_name="Rose")
    new = replace(old, given_on=date(2026, 6, 1), is_filed=False)
    same = replace(ADULT, forms=(old, new))
    assert codes(person=same, plan=plan) == {"~NEWER-FORM"}
    assert codes(person=same, plan=plan, agreed_name="Lune") == {"NAME", "~NEWER-FORM"}


def test_finer_place_word_stops() -> None:
    assert codes(replace(FRAME, place_word=PlaceWord.CITY)) == set()
    assert codes(replace(FRAME, place_word=PlaceWord.DISTRICT)) == {"WHERE"}


def test_accepted_quote_of_the_sitter_clears() -> None:
    quoted = replace(FRAME, quotes=(Quote("q1", "a"),))
    assert codes(quoted, quotes_accepted=frozenset({"q1"})) == set()
    assert codes(quoted) == {"QUOTE"}


def test_nothing_known_of_age_stops() -> None:
    assert codes(person=replace(ADULT, met_as_adult=False)) == {"AGE?"}


def test_year_in_which_18_falls_stops_on_the_form_day_and_on_the_start_day() -> None:
    year = replace(CHILD, birth=Birth.in_year(2008))
    assert codes(person=year) == {"BIRTHDAY"}
    assert codes(person=replace(CHILD, birth=Birth.in_year(2009))) == {"BIRTHDAY"}
    assert codes(person=replace(year, met_as_adult=True)) == {"BIRTHDAY"}


@pytest.mark.parametrize("answer", [None, False])
def test_child_that_has_not_said_yes_stops(answer: bool | None) -> None:
    assert codes(person=CHILD, childs_yes=answer) == {"CHILD-SAYS"}


def test_open_span_of_a_child_asks_at_18() -> None:
    open_wall = replace(WALL, ends_on=None)
    answer = weigh(FRAME, {"a": CHILD}, open_wall, today=TODAY)
    assert [r.code for r in answer.conditions] == [Code.ASK_AT_18]
    assert answer.look_again_on == date(2030, 3, 1)
    assert codes(person=CHILD, plan=replace(open_wall, use=Use.BOOK)) == set()


@pytest.mark.parametrize("condition", [Condition.CANNOT_ANSWER, Condition.DIED])
def test_without_a_standing_form_the_wish_counts_for_nothing(condition: Condition) -> None:
    code = {Condition.CANNOT_ANSWER: "AWAY", Condition.DIED: "DIED"}[condition]
    gone = replace(ADULT, condition=condition)
    go_on = {"if_cannot_answer": Wish.GO_ON, "if_died": Wish.GO_ON}
    assert codes(person=gone, is_filed=False, **go_on) == {"NOT-FILED", code}
    assert codes(person=gone, **go_on) == {"~TELL-FIRST"}


def test_speaker_yes_dated_after_today_does_not_count() -> None:
    away = replace(ADULT, condition=Condition.CANNOT_ANSWER, condition_on=TODAY)
    late = replace(away, speaker_yes={Use.EXHIBITION: TODAY + timedelta(days=1)})
    assert codes(person=late) == {"AWAY"}
    good = replace(away, speaker_yes={Use.EXHIBITION: TODAY})
    assert codes(person=good) == {"~SPEAKER"}
    assert codes(person=replace(good, condition_on=None)) == {"AWAY"}


def test_ordinary_sitter_not_spoken_with_is_a_condition() -> None:
    assert codes(person=replace(ADULT, last_talk_on=None)) == {"~CHECK-IN"}


def test_own_condition_decided_elsewhere_is_not_decided_here() -> None:
    decided = {Use.BOOK: Decision.CAN}
    found = codes(has_own_condition=True, own_condition_decided=decided)
    assert found == {"READ-IT"}


def test_windows_are_settings() -> None:
    narrow = Windows(ordinary=30)
    answer = weigh(FRAME, {"a": ADULT}, WALL, today=TODAY, windows=narrow)
    assert [reason.code for reason in answer.conditions] == [Code.CHECK_IN]


def test_somebody_in_the_frame_of_whom_nothing_is_given_is_an_error() -> None:
    with pytest.raises(KeyError):
        weigh(FRAME, {}, WALL, today=TODAY)


def test_base_is_the_newest_that_stands_and_newer_ones_bind() -> None:
    old, new = replace(FORM, given_on=date(2024, 1, 1)), replace(FORM, is_read=False)
    assert binding([new, FORM, old], "s1") == (FORM, [FORM])
    assert binding([new, old], "s1") == (old, [old, new])
    assert binding([new], "s1") == (None, [new])
    assert binding([FORM], "s2") == (None, [])


def test_taking_back_counts_until_a_later_form_stands() -> None:
    person = replace(ADULT, taken_back={ALL: FORM.given_on})
    assert is_taken_back(person, Use.BOOK, FORM)
    assert is_taken_back(person, Use.BOOK, None)
    assert not is_taken_back(person, Use.BOOK, FORM, by=date(2026, 5, 19))
    assert not is_taken_back(person, Use.BOOK, replace(FORM, given_on=date(2026, 5, 21)))
    assert not is_taken_back(replace(person, taken_back={Use.WEB: TODAY}), Use.BOOK, FORM)


def test_talk_of_today_counts() -> None:
    spoken = replace(ADULT, risk=Risk.GRAVE, last_talk_on=TODAY)
    answer = weigh(FRAME, {"a": spoken}, replace(WALL, starts_on=TODAY), today=TODAY)
    assert (answer.result, answer.conditions) == (Result.CLEARED, ())


def test_use_seen_everywhere_is_not_weighed_by_its_countries() -> None:
    web = replace(WALL, use=Use.WEB, countries=frozenset({"PE"}))
    limits = {"uses": frozenset({Use.WEB}), "not_countries": frozenset({"PE"})}
    assert codes(plan=web, **limits) == {"EVERYWHERE"}
    assert codes(plan=web, knows_seen_everywhere=True, **limits) == {"PLACE"}


def test_named_less_is_judged_by_the_newest_form_alone() -> None:
    newer = replace(FORM, given_on=TODAY, is_filed=False, name_form=NameForm.NONE)
    both = replace(ADULT, forms=(FORM, newer))
    silent = replace(WALL, names={})
    assert codes(person=both, plan=silent) == {"~NEWER-FORM"}
    assert codes(person=both, plan=silent, name_form=NameForm.FIRST) == {
        "~NEWER-FORM", "~NAMED-LESS",
    }  # fmt: skip


def test_without_a_base_the_last_form_tells_what_it_lacks() -> None:
    first = replace(FORM, is_complete=False, is_read=False)
    last = replace(FORM, given_on=TODAY, is_filed=False)
    assert codes(person=replace(ADULT, forms=(first, last))) == {"NOT-FILED"}


@pytest.mark.parametrize(("days", "found"), [(30, {"~LAST-WORD"}), (31, {"CHECK-IN"})])
def test_talk_exactly_as_many_days_ago_is_fine(days: int, found: set[str]) -> None:
    grave = replace(ADULT, risk=Risk.GRAVE, last_talk_on=TODAY - timedelta(days=days))
    assert codes(person=grave) == found
