"""What is typed about a trip is taken or refused beside its field."""

from datetime import time
from decimal import Decimal
from uuid import uuid4

import pytest

from relations.privacy.refused import Refused
from relations.trips.forms import CountForm, DaysForm, PackForm, PlanForm, PressForm, PrinterForm
from relations.trips.models import Day, Stay
from relations.trips.rules import SHEETS_A_SITTING
from relations.trips.values import COUNTS, Counted, How
from tests import cast
from tests.trips import desk

pytestmark = pytest.mark.django_db
TOKEN = {"token": str(uuid4())}


@pytest.fixture
def trip():
    return desk.trip(currency="EUR")


def of_days(trip, typed=None, held=(), countries=("FR",)):
    stay = Stay(trip=trip, countries=list(countries))
    return DaysForm(typed and {**TOKEN, **typed}, trip=trip, held=list(held), stay=stay)


def of_counts(trip, typed=None, held=None, noted=None):
    held = {thing: {} for thing in COUNTS} | (held or {})
    return CountForm(typed and {**TOKEN, **typed}, trip=trip, held=held, noted=noted or {})


def test_trip_of_which_nothing_was_said_is_worked_on_every_day(trip):
    form = of_days(trip)
    assert len(form.initial["days"]) == 14
    assert form.initial["rounds"] == []
    assert form.initial["countries"] == "France"


def test_what_was_said_of_days_stands_there_again(trip):
    form = of_days(trip, held=[Day(on=desk.FIRST, has_round=True), Day(on=desk.LAST)])
    assert form.initial["days"] == ["2026-11-30", "2026-12-13"]
    assert form.initial["rounds"] == ["2026-11-30"]


def test_days_rounds_and_countries_are_taken(trip):
    form = of_days(trip, {"days": ["2026-11-30"], "rounds": [], "countries": "Italy, fr"})
    assert form.is_valid()
    assert form.said == {"days": [desk.FIRST], "rounds": [], "countries": ["FR", "IT"]}


def test_no_country_is_the_projects_own(trip, settings):
    form = of_days(trip, {"days": ["2026-11-30"], "countries": ""})
    assert form.is_valid()
    assert form.said["countries"] == [settings.RELATIONS_COUNTRY]


def test_day_outside_the_trip_is_no_choice(trip):
    assert "days" in of_days(trip, {"days": ["2026-11-29"]}).errors


def test_person_out_of_sight_is_as_one_who_is_not_there():
    seen, unseen = desk.sitter(code="07"), desk.sitter(code="08")
    cast.in_sight(seen, cast.assistant())
    errors = [
        PlanForm({**TOKEN, "code": code}, user=cast.assistant()).errors.get("code")
        for code in ("07", "08", "99")
    ]
    assert errors[0] is None
    assert errors[1] == errors[2]
    assert unseen.code not in str(errors[1])


def test_empty_lines_of_a_plan_are_a_talk_without_company_and_the_usual_film():
    person = desk.sitter(code="07")
    form = PlanForm({**TOKEN, "code": "07"}, user=cast.artist())
    assert form.is_valid()
    assert form.said == {
        "person": person, "with_camera": False, "others": 0, "sheets": SHEETS_A_SITTING,
    }  # fmt: skip
    none = PlanForm({**TOKEN, "code": "07", "sheets": "0"}, user=cast.artist())
    assert none.is_valid()
    assert none.said["sheets"] == 0


def test_printer_is_asked_without_anything_being_kept():
    form = PrinterForm({"begin": "16.20", "cut": "17:00", "a_minute": "6"})
    assert form.is_valid()
    assert "token" not in form.fields
    assert (form.cleaned_data["begin"], form.cleaned_data["cut"]) == (time(16, 20), time(17))
    assert "a_minute" in PrinterForm({"begin": "16:20", "cut": "17:00", "a_minute": "0"}).errors


def test_presses_of_one_page_are_each_their_own():
    whole, short = (PackForm({**TOKEN, "part": part}) for part in ("whole", "short"))
    here, there = (PressForm(TOKEN, of=address) for address in ("/a/", "/b/"))
    assert all(form.is_valid() for form in (whole, short, here, there))
    assert len({form.token for form in (whole, short, here, there)}) == 4
    assert not PackForm({**TOKEN, "part": "half"}).is_valid()


def test_money_is_counted_in_cents_and_an_empty_line_was_not_counted(trip):
    form = of_counts(trip, {"money_taken": "240.00", "money_spent": "180,50", "film_taken": "64"})
    assert not form.errors.get("money_taken")
    form = of_counts(trip, {"money_taken": "240.5", "film_taken": "٦٤"})
    assert form.is_valid(), form.errors
    assert form.counts[Counted.MONEY][How.TAKEN] == 24_050
    assert form.counts[Counted.MONEY][How.SPENT] is None
    assert form.counts[Counted.FILM][How.TAKEN] == 64
    assert form.fields["money_taken"].help_text == "EUR"


def test_what_was_counted_stands_there_and_else_what_the_register_knows(trip):
    held = {Counted.MONEY: {How.TAKEN: 24_050}, Counted.FILM: {How.EXPOSED: 60}}
    noted = {Counted.FILM: {How.EXPOSED: 58, How.LOST: 1}}
    form = of_counts(trip, held=held, noted=noted)
    assert form.initial["money_taken"] == Decimal("240.5")
    assert form.initial["film_exposed"] == 60
    assert form.initial["film_lost"] == 1
    assert form.initial["prints_kept"] is None


def test_refusal_is_said_beside_what_it_is_about(trip):
    form = of_days(trip, {"days": []})
    form.is_valid()
    form.refuse(Refused("outside_trip", "trip_closed"))
    assert form.errors["days"]
    assert form.non_field_errors() == ["This trip is closed."]
