"""What is typed about uses is taken or refused in words beside its field."""

from uuid import uuid4

import pytest

from relations.privacy.refused import Refused
from relations.uses.forms import PlanForm, ShownForm, StopForm, WhomForm
from tests import cast
from tests.uses import plans

pytestmark = pytest.mark.django_db
PLAN = {"code": "E9", "use": "exhibition", "starts_on": "2027-02-05", "token": str(uuid4())}


def test_countries_are_taken_in_any_letters_and_order():
    form = PlanForm({**PLAN, "countries": "fr, be  fr"})
    assert form.is_valid()
    assert form.cleaned_data["countries"] == ["BE", "FR"]
    assert form.typed_in("code", "use") == {"code": "E9", "use": "exhibition"}


@pytest.mark.parametrize("typed", ["fr، be", "FR؛BE", "be;fr"])
def test_countries_are_parted_by_the_commas_of_any_script(typed):
    form = PlanForm({**PLAN, "countries": typed})
    assert form.is_valid()
    assert form.cleaned_data["countries"] == ["BE", "FR"]


def test_no_country_is_the_world():
    form = PlanForm({**PLAN, "countries": ""})
    assert form.is_valid()
    assert form.cleaned_data["countries"] is None


def test_an_unknown_country_is_named():
    form = PlanForm({**PLAN, "countries": "FR XQ"})
    assert form.errors["countries"] == ["No country has the letters XQ."]


def test_a_refusal_stands_beside_its_field_and_else_above():
    form = PlanForm(PLAN)
    assert form.is_valid()
    form.refuse(Refused("code_taken", "artist_only", "no_holder"))
    assert "code" in form.errors
    assert len(form.non_field_errors()) == 2


def test_a_use_without_holder_or_pictures_is_refused():
    form = ShownForm({**PLAN, "place": "union hall"})
    assert {"holder"} <= set(form.errors)
    plans.demo()
    chosen = {**PLAN, "place": "hall", "holder": "the keeper", "pictures": ["K01", "G01"]}
    form = ShownForm(chosen)
    assert form.is_valid()
    assert [one.code for one in form.cleaned_data["pictures"]] == ["G01", "K01"]


def stop(what, **other):
    return StopForm({"what": what, "token": PLAN["token"], **other})


def test_a_stop_names_everything_one_use_or_one_picture():
    plans.demo()
    form = stop("all")
    assert form.is_valid()
    assert form.cleaned_data["what"] == {"scope": "all", "use": "", "picture": None}
    assert form.cleaned_data["said_on"] == plans.TODAY
    form = stop("use:web")
    assert form.is_valid()
    assert form.cleaned_data["what"]["use"] == "web"
    form = stop("picture:K01", said_on="2026-11-20")
    assert form.is_valid()
    assert form.cleaned_data["what"]["picture"].code == "K01"


@pytest.mark.parametrize("what", ["use:billboard", "picture:K99", "some", ""])
def test_a_stop_of_nothing_that_is_known_is_refused(what):
    assert "what" in stop(what).errors


def test_a_stop_was_not_said_tomorrow():
    assert stop("all", said_on="2026-11-24").errors["said_on"] == ["This day has not come yet."]


def test_each_press_of_a_page_is_one_press():
    forms = [stop("use:web"), stop("use:web"), stop("use:book")]
    assert all(form.is_valid() for form in forms)
    assert forms[0].token == forms[1].token != forms[2].token


def test_a_code_that_nobody_has_says_so_in_one_sentence():
    cast.danuta()
    assert WhomForm({"code": " 12 ", "token": PLAN["token"]}).is_valid()
    form = WhomForm({"code": "99", "token": PLAN["token"]})
    assert form.errors["code"] == ["Nobody was found by this code."]
