"""What may be typed about rounds, and what each form says where it may not."""

from datetime import time
from uuid import uuid4

import pytest

from relations.prints import round_forms, walks
from relations.prints.round_forms import (
    QuartersForm,
    RoundForm,
    RoundsForm,
    TypedForm,
    WhereForm,
    called,
    sets_out,
)
from relations.privacy.refused import Refused
from tests import cast
from tests.prints import bag

pytestmark = pytest.mark.django_db


def chosen(*prints, user=None, **typed):
    user = user or cast.artist()
    said = {
        "token": str(uuid4()), "on": "2026-11-23", "starts_at": "10:00", "ends_by": "16:00",
        "walker": str(user.pk), "prints": [str(row.pk) for row in prints], **typed,
    }  # fmt: skip
    ready = [one.print for one in walks.candidates(user) if not one.lacks]
    return RoundForm(said, user=user, ready=ready)


def test_print_is_called_by_codes_quarter_and_hours_and_a_grave_one_by_less():
    row = bag.ready(cast.danuta(), "K12", opens_at=time(10), closes_at=time(12))
    artist, assistant = cast.artist(), cast.assistant()
    assert called(row, assistant) == "12 · K12 · la Forme · not before 10:00 · not after 12:00"
    grave = bag.ready(cast.ibrahima(), "K35", closes_at=time(12), not_at_the_lab=True)
    assert called(grave, assistant) == "35"
    assert called(grave, artist) == "35 · K35 · la Forme · not after 12:00"


@pytest.mark.parametrize(
    ("now", "expected"), [((9, 0), (10, 0)), ((10, 1), (10, 15)), ((15, 50), (16, 0)),
    ((23, 50), (10, 0))]
)  # fmt: skip
def test_round_of_today_does_not_begin_before_now(now, expected, monkeypatch):
    monkeypatch.setattr(round_forms, "now", lambda: cast.moment(cast.TODAY, *now))
    assert sets_out() == time(*expected)


def test_round_is_planned_by_the_hours_typed_and_for_whoever_the_artist_names():
    bag.quarters()
    row = bag.ready(cast.danuta(), "K12")
    form = chosen(row, walker=str(cast.assistant().pk), starts_in=bag.DOCK)
    assert form.is_valid(), form.errors
    assert form.planned() == {
        "on": cast.TODAY, "starts_at": time(10), "starts_in": bag.DOCK, "ends_by": time(16),
        "prints": [row], "walker": cast.assistant(),
    }  # fmt: skip


def test_assistant_goes_alone_and_names_nobody():
    row = bag.ready(cast.danuta(), "K12")
    cast.in_sight(cast.danuta(), cast.assistant())
    form = chosen(row, user=cast.assistant())
    assert "walker" not in form.fields
    assert form.is_valid()
    assert form.who_goes == cast.assistant()


def test_door_that_cannot_be_reached_is_said_by_its_code_with_the_reason():
    early = bag.ready(cast.danuta(), "K12", closes_at=time(9))
    form = chosen(early)
    assert not form.is_valid()
    (said,) = form.errors["prints"]
    assert said.startswith("12 · K12: the hours agreed are over")
    assert "before you can be there" in said


def test_quarters_without_minutes_are_named():
    rows = [bag.ready(cast.danuta(), "K12"), bag.ready(cast.marcel(), "K01", quarter="the hill")]
    form = chosen(*rows)
    assert not form.is_valid()
    assert form.unknown == [(bag.DOCK, "the hill")]


def test_round_with_no_daylight_left_is_refused_beside_its_hour():
    bag.light()
    row = bag.ready(cast.danuta(), "K12")
    form = chosen(row, starts_at="17:30", ends_by="")
    assert not form.is_valid()
    assert "No daylight is left" in form.errors["starts_at"][0]
    assert not chosen(row, starts_at="").is_valid()


def test_refusal_about_a_door_says_its_letter():
    form = RoundsForm({"token": str(uuid4())})
    assert form.is_valid()
    form.refuse(Refused("B:left_alone", "day_gone"))
    first, second = form.non_field_errors()
    assert first.startswith("Letter B: ")
    assert second.startswith("This day is over")


def where(row, **typed):
    said = {"token": str(uuid4()), "is_safe": "yes", "quarter": bag.DOCK, **typed}
    return WhereForm(said, print=row)


def test_where_a_print_is_brought_is_typed_and_an_empty_place_leaves_what_is_kept():
    bag.quarters()
    row = bag.ready(cast.danuta(), "K12")
    form = where(row, opens_at="10:00", closes_at="12:00")
    assert form.is_valid(), form.errors
    assert "place" not in form.said()
    assert form.said()["opens_at"] == time(10)
    form = where(row, place="behind the net store")
    assert form.is_valid()
    assert form.said()["place"] == "behind the net store"
    assert not where(row, quarter="the hill").is_valid()


def test_page_of_where_shows_no_place():
    row = bag.ready(cast.danuta(), "K12", place="behind the net store")
    form = WhereForm(None, print=row)
    assert "net store" not in form.as_p()
    assert form.initial["is_safe"] == "yes"


def minutes(**typed):
    return QuartersForm({"token": str(uuid4()), "start": "la Forme", "end": "le Môle", **typed})


def test_quarter_is_a_name_and_no_street():
    assert minutes(minutes="12").is_valid()
    assert not minutes(minutes="12", end="12 rue du Quai").is_valid()
    assert not minutes(minutes="-1").is_valid()
    assert not minutes(minutes="241").is_valid()


def test_quarter_that_is_known_keeps_its_spelling():
    bag.quarters()
    form = minutes(minutes="12", start="LA  forme")
    assert form.is_valid()
    assert form.cleaned_data["start"] == bag.DOCK


def typed(row, **said):
    doors = walks.doors(cast.artist(), row)
    return TypedForm({"token": str(uuid4()), "on": "2026-11-23", **said}, round=row, doors=doors)


def test_each_letter_is_a_line_and_empty_ones_wait():
    row = bag.out(bag.ready(cast.danuta(), "K12"), bag.ready(cast.marcel(), "K01"))
    form = typed(row, came_A="handed_on", word_A="X2")
    assert form.is_valid(), form.errors
    ((door, came, word),) = form.lines()
    assert (door.letter, came, word) == ("A", "handed_on", "X2")
    assert form.groups()[0] == "on"
    form.tell(["A"], {"B": Refused("noted_already")})
    assert set(form.doors) == {"B"}
    assert "came_A" not in form.fields
    assert form.errors["came_B"] == [
        "Letter B: It was noted on another page already. Nothing was stored twice."
    ]


def test_word_without_what_came_of_it_and_a_day_before_the_round_are_refused():
    row = bag.out(bag.ready(cast.danuta(), "K12"))
    form = typed(row, word_A="X2", on="2026-11-22")
    assert not form.is_valid()
    assert set(form.errors) == {"came_A", "on"}
    assert form.lines() == []


def test_letter_that_is_gone_from_the_form_was_typed_in_before():
    row = bag.out(bag.ready(cast.danuta(), "K12"))
    form = typed(row, came_B="given")
    assert not form.is_valid()
    assert form.non_field_errors() == [
        "Letter B: It was typed in before. Nothing was stored twice."
    ]
