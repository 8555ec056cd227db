"""What may be typed about a sitting and its film."""

from uuid import uuid4

import pytest

from relations.meetings import actions as meetings
from relations.pictures.sitting_forms import JoinForm, SheetsForm, SitForm
from tests import cast
from tests.pictures.test_actions import sit

pytestmark = pytest.mark.django_db
SIT = {"code": "12-T7", "on": "2026-11-23", "light": "flash", "sheets": "4"}


def filled(form, data, **rest):
    return form({"token": str(uuid4()), **data}, **rest)


def test_others_who_sit_are_named_by_code() -> None:
    danuta, marcel = cast.danuta(), cast.marcel()
    who = {"user": cast.artist(), "person": danuta}
    form = filled(SitForm, {**SIT, "also": "01", "holders": "11 12"}, **who)
    assert form.is_valid(), form.errors
    assert form.sat["sitters"] == [danuta, marcel]
    assert form.sat["holders"] == ["11", "12"]
    form = filled(SitForm, {**SIT, "also": "01 99", "holders": "1234567"}, **who)
    assert set(form.errors) == {"also", "holders"}


def test_assistant_names_people_in_sight_only() -> None:
    danuta = cast.danuta()
    who = {"user": cast.assistant(), "person": danuta}
    assert "also" in filled(SitForm, {**SIT, "also": "01"}, **who).errors
    cast.in_sight(cast.marcel(), cast.assistant())
    assert filled(SitForm, {**SIT, "also": "01"}, **who).is_valid()


def test_code_is_proposed_out_of_person_and_trip() -> None:
    meetings.open_trip(code="T7", first_day=cast.days(-2), last_day=cast.days(9), by=cast.artist())
    form = SitForm(user=cast.artist(), person=cast.danuta())
    assert form.fields["code"].initial == "12-T7"
    assert form.fields["trip"].initial.code == "T7"


def test_sitting_is_not_noted_for_a_day_to_come() -> None:
    who = {"user": cast.artist(), "person": cast.danuta()}
    assert "on" in filled(SitForm, {**SIT, "on": "2026-11-24"}, **who).errors
    assert filled(SitForm, {**SIT, "also": "x" * 121}, **who).errors.keys() == {"also"}


def test_whoever_steps_in_is_in_sight() -> None:
    cast.marcel()
    assert filled(JoinForm, {"code": "01"}, user=cast.assistant()).errors.keys() == {"code"}
    form = filled(JoinForm, {"code": "01"}, user=cast.artist())
    assert form.is_valid()
    assert form.cleaned_data["person"] == cast.marcel()
    assert not filled(JoinForm, {"code": ""}, user=cast.artist()).is_valid()


def test_only_sheets_of_this_sitting_are_ticked() -> None:
    sitting = sit()
    form = filled(SheetsForm, {"numbers": ["1", "4"], "state": "lost"}, sitting=sitting)
    assert form.is_valid()
    assert form.ticked == [1, 4]
    assert not filled(SheetsForm, {"numbers": ["5"], "state": "lost"}, sitting=sitting).is_valid()
    assert not filled(SheetsForm, {"state": "lost"}, sitting=sitting).is_valid()
