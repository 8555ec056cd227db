"""What holds of the weighing whoever sits, whatever they signed and wherever it is to hang."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta

from hypothesis import assume, given
from hypothesis import strategies as st

from relations.consent.answers import Answer, Code, Reason, Result
from relations.consent.rules import binding, weigh
from relations.consent.values import ALL, Form, Person, Picture, Plan, Sitter, Use
from relations.people.values import Condition, Risk
from relations.pictures.values import Others, Recognisable

from .strategies import (
    CODES,
    EASY_FORMS,
    EASY_PEOPLE,
    EVERYBODY,
    FORMS,
    PICTURES,
    PLANS,
    TODAY,
    people,
    sixty_times,
)

RANK = {Result.CLEARED: 0, Result.CONDITIONS: 1, Result.NOT_CLEARED: 2}
People = Mapping[str, Person]


def weighed(picture: Picture, everybody: People, plan: Plan) -> Answer:
    """The answer on the day of the demo."""
    return weigh(picture, everybody, plan, today=TODAY)


def changed(everybody: People, **fields: object) -> People:
    """Everybody with the same fields changed."""
    return {code: replace(person, **fields) for code, person in everybody.items()}


@sixty_times
@given(PICTURES, EVERYBODY, PLANS)
def test_any_stop_is_not_cleared_and_any_condition_is_not_plain(
    picture: Picture, everybody: People, plan: Plan
) -> None:
    answer = weighed(picture, everybody, plan)
    assert (answer.result is Result.NOT_CLEARED) == bool(answer.stops)
    assert (answer.result is Result.CLEARED) == (not answer.stops and not answer.conditions)
    reasons = answer.stops + answer.conditions
    assert len(set(reasons)) == len(reasons)
    assert {reason.about for reason in reasons} <= {"p1", *(s.code for s in picture.sitters)}


@sixty_times
@given(PICTURES, EVERYBODY, PLANS)
def test_weighing_twice_gives_the_same(picture: Picture, everybody: People, plan: Plan) -> None:
    assert weighed(picture, everybody, plan) == weighed(picture, everybody, plan)


@sixty_times
@given(PICTURES, EVERYBODY, PLANS)
def test_strictest_sitter_decides(picture: Picture, everybody: People, plan: Plan) -> None:
    picture = replace(picture, quotes=())
    together = weighed(picture, everybody, plan)
    alone = [weighed(replace(picture, sitters=(s,)), everybody, plan) for s in picture.sitters]
    assert set(together.stops) == {reason for one in alone for reason in one.stops}
    assert set(together.conditions) == {reason for one in alone for reason in one.conditions}
    assert RANK[together.result] == max(RANK[one.result] for one in alone)
    looks = [one.look_again_on for one in alone if one.look_again_on is not None]
    assert together.look_again_on == min(looks, default=None)


@sixty_times
@given(PICTURES, EVERYBODY, PLANS)
def test_order_of_forms_of_different_days_and_of_sitters_does_not_matter(
    picture: Picture, everybody: People, plan: Plan
) -> None:
    turned = {code: replace(p, forms=p.forms[::-1]) for code, p in everybody.items()}
    first = weighed(picture, everybody, plan)
    second = weighed(replace(picture, sitters=picture.sitters[::-1]), turned, plan)
    assert set(first.stops) == set(second.stops)
    assert set(first.conditions) == set(second.conditions)
    assert first.look_again_on == second.look_again_on


@sixty_times
@given(PICTURES, EVERYBODY, PLANS, st.sampled_from([ALL, "this use"]))
def test_taking_back_always_stops(
    picture: Picture, everybody: People, plan: Plan, scope: str
) -> None:
    key = ALL if scope == ALL else plan.use
    answer = weighed(picture, changed(everybody, taken_back={key: TODAY}), plan)
    assert {Reason(s.code, Code.WITHDRAWN) for s in picture.sitters} <= set(answer.stops)


@sixty_times
@given(PICTURES, EVERYBODY, PLANS)
def test_hold_always_stops(picture: Picture, everybody: People, plan: Plan) -> None:
    answer = weighed(replace(picture, is_on_hold=True), changed(everybody, is_on_hold=True), plan)
    abouts = {"p1", *(sitter.code for sitter in picture.sitters)}
    assert {Reason(about, Code.HOLD) for about in abouts} <= set(answer.stops)


@sixty_times
@given(PICTURES, EVERYBODY, PLANS)
def test_no_use_implies_another(picture: Picture, everybody: People, plan: Plan) -> None:
    without = {
        code: replace(p, forms=tuple(replace(f, uses=f.uses - {plan.use}) for f in p.forms))
        for code, p in everybody.items()
    }
    assert weighed(picture, without, plan).result is Result.NOT_CLEARED


@sixty_times
@given(PICTURES, PLANS, st.sampled_from(CODES))
def test_unknown_is_no(picture: Picture, plan: Plan, code: str) -> None:
    everybody = {code: Person(code) for code in CODES}
    answer = weighed(picture, everybody, plan)
    assert {Reason(s.code, Code.NO_FORM) for s in picture.sitters} <= set(answer.stops)
    unset = Form(given_on=TODAY, sittings=frozenset({"s1"}), uses=frozenset(Use))
    everybody = {code: Person(code, forms=(unset,)) for code in CODES}
    assert weighed(picture, everybody, plan).result is Result.NOT_CLEARED


NARROWER = [
    {"only_countries": frozenset()},
    {"not_countries": frozenset({"FR", "PE", "SN"})},
    {"first_day": date(2030, 1, 1)},
    {"last_day": date(2026, 1, 1)},
    {"is_faceless": True},
    {"shows_first": True, "pictures_accepted": frozenset()},
    {"approves_captions": True, "captions_accepted": frozenset()},
    {"pictures_refused": frozenset({"p1"})},
    {"has_own_condition": True, "own_condition_decided": {}},
    {"guardian_no": True},
    {"childs_yes": False},
    {"is_filed": False},
]


@sixty_times
@given(picture=PICTURES, everybody=EASY_PEOPLE | EVERYBODY, plan=PLANS)
def test_narrower_paper_never_opens(picture: Picture, everybody: People, plan: Plan) -> None:
    """Each limit upon the same chance people: to make them up takes longer than to weigh them."""
    before = weighed(picture, everybody, plan)
    for limit in NARROWER:
        narrowed = {
            code: replace(p, forms=tuple(replace(f, **limit) for f in p.forms))
            for code, p in everybody.items()
        }
        after = weighed(picture, narrowed, plan)
        assert RANK[after.result] >= RANK[before.result], limit


@sixty_times
@given(PICTURES, EVERYBODY, PLANS, FORMS)
def test_newer_form_that_does_not_stand_only_narrows(
    picture: Picture, everybody: People, plan: Plan, newer: Form
) -> None:
    newer = replace(newer, is_filed=False, given_on=TODAY, sittings=frozenset({"s1"}))
    narrowed = {code: replace(p, forms=(*p.forms, newer)) for code, p in everybody.items()}
    before, after = weighed(picture, everybody, plan), weighed(picture, narrowed, plan)
    assert RANK[after.result] >= max(RANK[before.result], RANK[Result.CONDITIONS])


@sixty_times
@given(PICTURES, EVERYBODY, PLANS)
def test_unset_risk_is_raised_and_graver_never_opens(
    picture: Picture, everybody: People, plan: Plan
) -> None:
    unset, raised, grave = (
        weighed(picture, changed(everybody, risk=risk), plan)
        for risk in (None, Risk.RAISED, Risk.GRAVE)
    )
    assert unset == raised
    assert RANK[grave.result] >= RANK[raised.result] or Code.LAST_WORD in {
        reason.code for reason in grave.conditions
    }


@sixty_times
@given(PICTURES, EVERYBODY, PLANS, st.integers(1, 2000))
def test_talk_after_today_counts_as_none(
    picture: Picture, everybody: People, plan: Plan, days: int
) -> None:
    later = changed(everybody, last_talk_on=TODAY + timedelta(days=days))
    never = changed(everybody, last_talk_on=None)
    assert weighed(picture, later, plan) == weighed(picture, never, plan)


@sixty_times
@given(PICTURES, EVERYBODY, PLANS)
def test_span_is_looked_at_again_by_its_end(
    picture: Picture, everybody: People, plan: Plan
) -> None:
    plan = replace(plan, use=Use.EXHIBITION, is_one_day=False)
    assume(plan.ends_on is not None)
    look = weighed(picture, everybody, plan).look_again_on
    assert look is not None
    assert plan.ends_on is not None and look <= plan.ends_on


@sixty_times
@given(PICTURES, EVERYBODY, PLANS)
def test_words_that_are_not_shown_do_not_matter(
    picture: Picture, everybody: People, plan: Plan
) -> None:
    silent = replace(plan, shows_captions=False)
    bare = replace(picture, words="", quotes=(), caption=None)
    assert weighed(picture, everybody, silent) == weighed(
        bare, everybody, replace(silent, names={})
    )


@sixty_times
@given(people("a"), PLANS)
def test_without_a_form_for_the_sitting_little_else_is_weighed(person: Person, plan: Plan) -> None:
    picture = Picture("p1", "s3", TODAY, (Sitter("a", Recognisable.YES),), Others.NONE)
    answer = weighed(picture, {"a": person}, plan)
    found = {reason.code for reason in answer.stops}
    assert Code.NO_FORM in found
    assert found <= {Code.NO_FORM, Code.HOLD, Code.WITHDRAWN, Code.AWAY, Code.DIED}
    assert answer.conditions == ()


@sixty_times
@given(st.lists(EASY_FORMS | FORMS, max_size=4))
def test_base_stands_and_nothing_newer_does(forms: list[Form]) -> None:
    base, bound = binding(forms, "s1")
    if base is None:
        assert not any(form.stands and "s1" in form.sittings for form in forms)
    else:
        assert base.stands and bound[0] is base
        assert not any(form.stands for form in bound[1:])
    days = [form.given_on for form in bound]
    assert days == sorted(days)


@sixty_times
@given(EVERYBODY, PLANS)
def test_dead_or_absent_sitter_never_clears_plainly(everybody: People, plan: Plan) -> None:
    picture = Picture("p1", "s1", TODAY, (Sitter("a", Recognisable.NO),), Others.NONE)
    for condition in (Condition.DIED, Condition.CANNOT_ANSWER):
        gone = changed(everybody, condition=condition)
        assert weighed(picture, gone, plan).result is not Result.CLEARED
