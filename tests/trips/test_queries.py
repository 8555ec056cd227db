"""What a trip needs, who is planned and what came home, out of the register."""

from collections import Counter
from datetime import timedelta

import pytest

from relations.consent.models import Form
from relations.meetings.models import Interview, Meeting, Recording, Trip
from relations.pictures.models import FilmSheet, Sitting
from relations.rights.models import Alarm
from relations.trips import queries
from relations.trips.models import Count, MissingBlank, Stay
from relations.trips.values import Counted, How
from tests import cast
from tests.rows import make
from tests.trips import desk

pytestmark = pytest.mark.django_db


def test_blanks_of_a_trip_are_those_signed_out_to_it_in_one_query(django_assert_num_queries):
    mine, other = make(Trip), make(Trip)
    lost = make(Form, trip=mine, state="missing")
    make(Form, trip=mine, state="spoilt")
    make(Form, trip=other, state="missing")
    make(Form, state="carried")
    with django_assert_num_queries(1):
        found = queries.blanks(mine)
    assert found.printed == 2
    assert found.missing == (lost.sheet.serial,)


def test_outline_counts_everybody_and_shows_those_in_sight():
    trip = desk.trip()
    desk.days(trip, 14, rounds=3)
    seen, unseen = desk.sitter("fr"), desk.sitter("ar fr")
    cast.in_sight(seen, cast.assistant())
    desk.plan(trip, seen, others=2)
    desk.plan(trip, unseen, sheets=10)
    desk.plan(trip, desk.sitter("pt"), with_camera=False)
    make(Meeting, trip=trip, with_camera=True, sheets=6, state="called_off")
    make(Meeting, trip=trip, with_camera=True, sheets=4, state="held", at=cast.moment())
    found = queries.outline(trip, cast.assistant())
    assert ([one.person for one in found.planned], found.unseen) == ([seen], 2)
    assert (len(found.days), found.rounds, found.sittings) == (14, 3, 2)
    # 6 and 10 planned and 4 of a sitting that was held: 20 x 1.15 / 2 = 11.5 -> 12 holders.
    assert (found.sheets, found.film, found.holders) == (20, 24, 12)
    assert {need.language: need.expected for need in found.needs} == {"fr": 3, "ar": 1, "pt": 1}
    assert found.blanks == 0, "no wording was read here"
    assert queries.outline(trip, cast.artist()).unseen == 0


def test_first_days_count_those_whose_day_is_agreed_with_whoever_comes_along():
    trip = desk.trip()
    days = [desk.FIRST, desk.FIRST + timedelta(days=1)]
    at = cast.moment(desk.FIRST, 15)
    make(Meeting, person=desk.sitter("es"), trip=trip, state="fixed", at=at, others=1)
    make(Meeting, person=desk.sitter(""), trip=trip, state="confirmed", at=at)
    make(Meeting, person=desk.sitter("fr"), trip=trip, state="moved", at=at)
    make(Meeting, person=desk.sitter("fr"), trip=trip, state="proposed")
    late = cast.moment(desk.LAST)
    make(Meeting, person=desk.sitter("fr"), trip=trip, state="fixed", at=late)
    assert queries.early(trip, days) == Counter({"es": 2, "": 1})


def test_countries_are_the_projects_own_until_others_are_said(settings):
    trip = desk.trip()
    assert queries.stay(trip).countries == [settings.RELATIONS_COUNTRY]
    make(Stay, trip=trip, countries=["IT"])
    assert queries.stay(trip).countries == ["IT"]


def test_missing_blank_stands_with_the_newest_alarm_that_names_it():
    trip = desk.trip()
    first, second = (make(Form, trip=trip, state="missing") for _ in range(2))
    old, new = make(Alarm, known_at=cast.moment()), make(Alarm, known_at=cast.moment(hour=12))
    for alarm in (new, old):
        make(MissingBlank, form=first, alarm=alarm)
    found = {row.serial: row.alarm for row in queries.missing(trip)}
    assert found == {first.sheet.serial: new, second.sheet.serial: None}
    assert set(queries.named_missing(trip)) == {first.pk}


def test_home_says_what_was_counted_and_nothing_of_what_was_not(django_assert_num_queries):
    trip = desk.trip()
    make(Count, trip=trip, thing="film", how="taken", number=64)
    make(Count, thing="film", how="lost", number=9)
    named = make(MissingBlank, form=make(Form, trip=trip, state="missing"))
    with django_assert_num_queries(3):
        found = queries.home(trip)
    held = {tally.thing: dict(tally.counts) for tally in found.tallies}
    assert held[Counted.FILM] == {How.TAKEN: 64}
    assert held[Counted.MONEY] == {}
    assert found.told == {named.form.sheet.serial}
    assert found.open_ends == ("film_open", "prints_open", "money_open", "recordings_open")


def test_what_the_register_knows_of_film_and_recordings_is_offered():
    trip = desk.trip()
    assert queries.noted(trip) == {Counted.FILM: {}, Counted.RECORDINGS: {}}
    sitting = make(Sitting, trip=trip)
    for number, state in enumerate(("exposed", "processed", "processed", "lost")):
        make(FilmSheet, sitting=sitting, number=number, state=state)
    make(FilmSheet)
    there, before = (make(Interview, held_on=day) for day in (desk.FIRST, cast.TODAY))
    make(Recording, interview=there, off_the_phone_on=desk.FIRST)
    make(Recording, interview=there)
    make(Recording, interview=before)
    assert queries.noted(trip) == {
        Counted.FILM: {How.EXPOSED: 4, How.PROCESSED: 2, How.LOST: 1},
        Counted.RECORDINGS: {How.MADE: 2, How.SEALED: 1},
    }
