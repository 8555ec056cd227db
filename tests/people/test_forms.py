"""What may be typed about people: words for every refusal, and fields read as they are meant."""

import uuid
from datetime import date

import pytest
from django.core.exceptions import ValidationError

from relations.people.forms import FilterForm, MendForm, PastDayField, PersonForm
from relations.people.hold_forms import HoldForm
from relations.people.known_forms import LevelForm
from relations.people.phone_forms import PhoneForm
from relations.people.ways_forms import WaysForm
from relations.privacy.refused import Refused
from tests import cast


def typed(**fields: object) -> dict[str, object]:
    return {"token": str(uuid.uuid4()), **fields}


def test_a_refusal_stands_beside_the_field_it_is_about_or_over_the_form() -> None:
    form = PhoneForm(typed(number="", through=""))
    form.is_valid()
    form.refuse(Refused("never_ring", "artist_only"))
    assert "This number may not be rung." in form.errors["number"]
    assert form.non_field_errors() == ["This is for the artist."]


def test_a_field_that_a_form_lacks_takes_no_error() -> None:
    class Bare(PersonForm):
        about = {"never_ring": "number"}

    form = Bare(typed())
    form.is_valid()
    form.refuse(Refused("never_ring"))
    assert form.non_field_errors() == ["This number may not be rung."]


@pytest.mark.parametrize("day", [cast.TODAY, cast.days(-1)])
def test_what_happened_happened_by_today(day: date) -> None:
    assert PastDayField().clean(day.isoformat()) == day
    with pytest.raises(ValidationError, match="has not come yet"):
        PastDayField().clean(cast.days(1).isoformat())


def test_a_room_says_in_its_own_words_that_a_day_has_not_come() -> None:
    field = PastDayField(required=False, error_messages={"future": "Not yet."})
    assert field.clean("") is None
    with pytest.raises(ValidationError, match="Not yet"):
        field.clean(cast.days(1).isoformat())


@pytest.mark.django_db
def test_a_filter_that_cannot_be_read_narrows_nothing() -> None:
    cast.aulne()
    assert FilterForm(None).chosen() == {}
    assert FilterForm({"group": "nowhere"}).chosen() == {}
    assert FilterForm({"group": "aulne"}).chosen() == {
        "community": cast.aulne(), "standing": "",
    }  # fmt: skip
    assert FilterForm({"group": "aulne", "standing": "", "page": "2"}).query() == "group=aulne"


@pytest.mark.django_db
def test_only_what_changed_is_mended() -> None:
    marcel = cast.marcel()
    same = {"call_name": "Marcel", "community": str(cast.aulne().pk), "heard_on": "2023-09-20"}
    form = MendForm(typed(**same), person=marcel)
    assert form.is_valid(), form.errors
    assert form.changes == {}
    form = MendForm(typed(**{**same, "community": ""}), person=marcel)
    assert form.is_valid(), form.errors
    assert form.changes == {"community": None}


def test_a_hold_is_looked_at_again_in_14_days_if_nothing_is_said() -> None:
    assert HoldForm().fields["next_look_on"].initial == cast.days(14)


@pytest.mark.parametrize(
    ("theirs", "ours", "counts"),
    [
        ("ordinary", "ordinary", "ordinary"),
        ("", "ordinary", "raised"),
        ("grave", "raised", "grave"),
    ],
)
def test_the_higher_view_counts(theirs: str, ours: str, counts: str) -> None:
    form = LevelForm(typed(theirs=theirs, ours=ours))
    assert form.is_valid(), form.errors
    assert form.level == counts


@pytest.mark.django_db
def test_ways_begin_with_what_is_known() -> None:
    bruno = cast.bruno()
    form = WaysForm(person=bruno)
    assert (form.initial["first"], form.initial["second"], form.initial["begin"]) == (
        "fr", "", "",
    )  # fmt: skip
    assert not form.initial["hours_unknown"]
    bruno.safe_hours = [["10:00", "12:00"], ["14:00", "19:00"]]
    assert WaysForm(person=bruno).initial["hours_unknown"]
    assert WaysForm(person=cast.marcel()).initial["begin"] == "10:00"


def test_a_number_is_passed_on_exactly_as_it_was_typed() -> None:
    form = PhoneForm(typed(number=" ٠٦ ٣٩ ", country="FR"))
    assert form.is_valid(), form.errors
    assert form.line["typed"] == " ٠٦ ٣٩ "


def test_languages_and_countries_have_names_in_the_readers_language() -> None:
    choices = dict(PhoneForm().fields["country"].choices)  # type: ignore[attr-defined]
    assert choices["FR"] == "France"
    assert len(choices) > 200
