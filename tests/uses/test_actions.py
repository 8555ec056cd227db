"""Plans, what is asked for in them, answers that are kept, and the use register."""

from datetime import date, timedelta

import pytest

from relations.privacy.refused import Refused
from relations.uses import actions, queries
from relations.uses.models import PlannedPicture, Shown, Weighing
from tests import cast
from tests.consent.register import AT
from tests.uses import plans

pytestmark = pytest.mark.django_db
DAY = date(2027, 2, 5)


def refused(act, **said):
    with pytest.raises(Refused) as caught:
        act(**said)
    return caught.value.codes


def small_plan(**other):
    return actions.plan(
        **{"code": "E9", "use": "exhibition", "starts_on": DAY, "by": cast.artist(), **other}
    )


def test_plan_keeps_countries_in_order_and_none_for_the_world():
    assert small_plan(countries=["FR", "BE", "FR"]).countries == ["BE", "FR"]
    assert small_plan(code="W9", use="web").countries is None


def test_plan_is_refused_in_words_where_it_cannot_be():
    small_plan()
    assert refused(small_plan) == ("code_taken",)
    assert refused(small_plan, code="e9") == ("code_taken",)
    assert refused(small_plan, code="E8", countries=[]) == ("no_country",)
    assert refused(small_plan, code="E8", ends_on=DAY - timedelta(1)) == ("ends_before",)
    assert refused(small_plan, code="E8", by=cast.assistant()) == ("artist_only",)


def test_pictures_asked_for_twice_are_asked_for_once_and_come_back_when_dropped():
    plans.demo()
    plan, by = small_plan(), plans.artist()
    two = plans.pictures("K01", "K02")
    actions.ask_for(plan=plan, pictures=two, by=by)
    actions.ask_for(plan=plan, pictures=two[:1], by=by)
    assert queries.asked_codes(plan) == ["K01", "K02"]
    assert actions.leave_out(plan=plan, pictures=two[:1], by=by, on=DAY) == 1
    assert queries.asked_codes(plan) == ["K02"]
    actions.ask_for(plan=plan, pictures=two, by=by)
    assert PlannedPicture.objects.count() == 2 == len(queries.asked_codes(plan))


def test_nothing_is_asked_for_in_a_plan_that_was_given_up():
    plan, by = small_plan(), cast.artist()
    actions.drop(plan=plan, by=by, on=DAY)
    actions.drop(plan=plan, by=by, on=DAY + timedelta(1))
    assert plan.dropped_on == DAY
    assert refused(actions.ask_for, plan=plan, pictures=[], by=by) == ("plan_dropped",)


@pytest.mark.parametrize(
    ("act", "said"),
    [
        (actions.drop, {"on": DAY}),
        (actions.ask_for, {"pictures": []}),
        (actions.leave_out, {"pictures": [], "on": DAY}),
        (actions.name_shown, {"person": None, "name_form": "full"}),
        (actions.weigh, {"at": AT}),
    ],
)
def test_clearing_is_for_the_artist(act, said):
    assert refused(act, plan=small_plan(), by=cast.assistant(), **said) == ("artist_only",)


def test_how_a_sitter_is_named_is_said_once_a_plan():
    plan, person = small_plan(), cast.marcel()
    for form in ("full", "first"):
        actions.name_shown(plan=plan, person=person, name_form=form, by=cast.artist())
    assert queries.rule_plan(plan).names == {"01": "first"}


def test_weighing_keeps_every_answer_with_its_digest_and_day():
    plans.demo()
    plan = plans.plan("E1")
    rows = actions.weigh(plan=plan, by=plans.artist(), at=AT)
    assert len(rows) == 33 == Weighing.objects.count()
    kept = {row.asked.picture.code: row for row in Weighing.objects.all()}
    assert {row.on for row in rows} == {plans.TODAY}
    assert len({row.digest for row in rows}) == 33
    expected = plans.DEMO["expected"]["E1"]
    assert {code: plans.comparable(queries.kept_words(row)) for code, row in kept.items()} == {
        code: plans.comparable(answer) for code, answer in expected.items()
    }


def test_kept_answers_are_never_written_over():
    plans.demo()
    plan = plans.plan("E1", "K01")
    for _ in range(2):
        actions.weigh(plan=plan, by=plans.artist(), at=AT)
    assert Weighing.objects.count() == 2


def test_a_use_without_holder_cannot_be_saved():
    plans.demo()
    assert refused(plans.shown, code="U1", use="web", holder="  ") == ("no_holder",)
    assert not Shown.objects.exists()


def test_the_use_register_refuses_what_could_not_be_undone():
    plans.demo()
    plans.shown("U1", "exhibition", "K01")
    again = {"use": "exhibition"}
    assert refused(plans.shown, code="u1", **again) == ("code_taken",)
    assert refused(plans.shown, code="U2", pictures=[], **again) == ("no_picture",)
    assert refused(plans.shown, code="U2", ends_on=date(2026, 9, 1), **again) == ("ends_before",)
    assert refused(plans.shown, code="U2", by=cast.assistant(), **again) == ("artist_only",)


def test_what_is_shown_keeps_its_pictures_and_its_holder():
    plans.demo()
    row = plans.shown(
        "U1", "book", "K01", "K03", copies=300, holder=" the press ", countries=["FR"]
    )
    assert [one.code for one in row.pictures.all()] == ["K01", "K03"]
    assert (row.holder, row.copies, row.countries) == ("the press", 300, ["FR"])
