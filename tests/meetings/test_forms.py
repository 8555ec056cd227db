"""What may be typed about meetings; digits of any script are read, nothing typed is lost."""

from uuid import uuid4

import pytest

from relations.meetings import actions
from relations.meetings.forms import ChosenForm, FixForm, HelperForm, TripForm, WriteUpForm
from relations.meetings.models import HelperKind
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db
FIX = {"day": "2026-11-25", "hour": "15:00", "place": "behind the mole", "exit_signal": "a cough"}


def filled(form, data):
    return form({"token": str(uuid4()), **data})


def test_day_and_hour_are_read_in_native_digits() -> None:
    form = filled(FixForm, {**FIX, "day": "٢٥.١١.٢٠٢٦", "hour": "١٥:٠٠", "place_is_theirs": "on"})
    assert form.is_valid(), form.errors
    assert form.agreed["at"] == cast.moment(cast.days(2), 15)
    assert form.agreed["place_is_theirs"] is True


def test_meeting_is_not_fixed_for_a_day_that_is_past() -> None:
    form = filled(FixForm, {**FIX, "day": "2026-11-22"})
    assert list(form.errors) == ["day"]


def test_interpreters_witnesses_and_trips_are_offered() -> None:
    one = actions.add_helper(kind=HelperKind.INTERPRETER, initials="TA", by=cast.artist())
    other = actions.add_helper(kind=HelperKind.WITNESS, initials="WI", by=cast.artist())
    trip = actions.open_trip(
        code="T7", first_day=cast.days(7), last_day=cast.days(20), by=cast.artist()
    )
    chosen = ChosenForm()
    assert list(chosen.fields["interpreter"].queryset) == [one]
    assert list(chosen.fields["witness"].queryset) == [other]
    assert FixForm().fields["trip"].initial == trip


def test_refusal_stands_beside_the_field_it_is_about() -> None:
    form = filled(FixForm, FIX)
    assert form.is_valid()
    form.refuse(Refused("place", "on_hold"))
    assert set(form.errors) == {"place_is_theirs", "__all__"}


def test_writing_up_asks_who_was_there() -> None:
    assert "power_present" in filled(WriteUpForm, {}).errors
    form = filled(WriteUpForm, {"power_present": "no", "told_back": ["where"]})
    assert form.is_valid()
    assert form.written["power_present"] is False
    assert form.written["told_back"] == ["where"]


def test_tick_that_is_not_on_the_sheet_is_an_error() -> None:
    form = filled(WriteUpForm, {"power_present": "no", "explained": ["weather"]})
    assert list(form.errors) == ["explained"]


def test_promise_is_not_signed_on_a_day_to_come() -> None:
    data = {"kind": "interpreter", "initials": "TA", "promise_signed_on": "2026-11-24"}
    assert list(filled(HelperForm, data).errors) == ["promise_signed_on"]


def test_initials_hold_no_hidden_characters() -> None:
    data = {"kind": "interpreter", "initials": "T\u202eA"}
    assert list(filled(HelperForm, data).errors) == ["initials"]


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ({"name": "Latifa Haddad"}, "L.H."),
        ({"name": "अनिता क्षेत्री"}, "अ.क्षे."),
        ({"name": "مريم الخالدي"}, "م.خ."),
        ({"name": "Latifa", "initials": "LH"}, "LH"),
        ({"initials": "अ.क्षे.श्रे."}, "अ.क्षे.श्रे."),
        ({"initials": "ABCDEF"}, "ABCDEF"),
    ],
)
def test_initials_are_typed_or_made_from_the_name(typed, kept) -> None:
    form = filled(HelperForm, {"kind": "witness", **typed})
    assert form.is_valid(), form.errors
    assert form.helper_given["initials"] == kept


@pytest.mark.parametrize("typed", [{}, {"name": "?"}, {"initials": "ABCDEFG"}])
def test_nobody_is_without_initials_nor_with_a_whole_name_in_them(typed) -> None:
    assert list(filled(HelperForm, {"kind": "witness", **typed}).errors) == ["initials"]


def test_trip_takes_a_sum_in_any_digits() -> None:
    days = {"first_day": "2026-11-30", "last_day": "2026-12-13", "print_budget": "১২০"}
    form = filled(TripForm, {"code": "t8", **days})
    assert form.is_valid(), form.errors
    assert (form.opened["code"], form.opened["print_budget"]) == ("T8", 120)
