"""What a set may hold is a list of fields: whatever is new stays home until somebody adds it."""

import pytest
from django.apps import apps

from relations.trips import travelling
from relations.trips.carried import CARRIED
from relations.trips.models import Day
from tests.rows import make
from tests.trips import desk

# Of a person and their meetings, what the design of the job lets nobody carry (section 4).
STAYS_HOME = {
    "people.Participant": "log_key community standing standing_since heard_on level condition "
    "born_earliest born_latest born_said last_talk_on may_vouch show_to_own_group thanked_on",
    "people.PhoneLine": "note mark through",
    "meetings.Meeting": "place fallback exit_signal company interpreter witness explained "
    "told_back ended_why",
    "meetings.Trip": "latitude longitude print_budget currency",
    "prints.Print": "place quarter word_at_the_door into_whose_hand when_to_come box order "
    "state_on owed_since",
    "pictures.Picture": "sitting sheet light_copy file_name alt_text made_on",
    "consent.Form": "person agreed_name own_condition uses carried_by",
    "documents.Sheet": "digest kept layout printed_at printed_by",
    "privacy.OutboxKey": "private",
    "privacy.User": "password role asks_code",
}


@pytest.mark.parametrize("label", CARRIED)
def test_every_carried_field_is_one_of_its_table(label):
    fields = {field.name for field in apps.get_model(label)._meta.concrete_fields}
    assert set(CARRIED[label]) <= fields
    stays = set(STAYS_HOME.get(label, "").split())
    assert stays <= fields
    assert not stays & set(CARRIED[label])


def test_nobodys_name_introduction_ring_interview_or_scan_is_a_table_of_it():
    never = "Name Introduction Speaker Call Interview Recording Scan Reading Community Appearance"
    assert not {label.split(".")[1] for label in CARRIED} & set(never.split())


@pytest.mark.django_db
def test_field_that_is_not_listed_is_not_carried():
    """The same row with one field fewer on the list: that field is as in any new row."""
    day = make(Day, trip=desk.trip(), has_round=True)
    listed = CARRIED["trips.Day"]
    carried = travelling._row(Day, travelling._plain(day, listed))
    assert (carried.pk, carried.on, carried.has_round) == (day.pk, day.on, True)
    fewer = [name for name in listed if name != "has_round"]
    carried = travelling._row(Day, travelling._plain(day, fewer))
    assert (carried.pk, carried.has_round) == (day.pk, False)
