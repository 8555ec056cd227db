"""Who is in a set and in which words; what is made up there; and that home knows of it first."""

import json

import pytest
from django.core.serializers.json import DjangoJSONEncoder

from relations.meetings.models import Meeting, TravellingSet
from relations.people.models import InSight, Name, Participant, PersonHold, PhoneLine
from relations.people.newcomers import refuse
from relations.pictures.models import Picture
from relations.prints.models import Print, Round
from relations.privacy import sets
from relations.privacy.models import AccessEntry, OutboxKey, User
from relations.privacy.outbox import stand
from relations.privacy.sets import NoSet
from relations.trips import travelling
from relations.trips.carried import CARRIED
from tests import cast
from tests.rows import make
from tests.trips import desk

pytestmark = pytest.mark.django_db
WORDS = {"passphrase": "four boats and no harbour", "password": "a lamp, a wall, a stair"}


@pytest.fixture
def trip():
    stand()
    return desk.trip()


def codes(trip):
    return {person.code for person in travelling.on_the_trip(trip, cast.assistant()).people}


def through_the_pipe(said):
    return json.loads(json.dumps(said, cls=DjangoJSONEncoder))


def rows(trip):
    return through_the_pipe(travelling.rows(trip, cast.assistant(), [trip.first_day]))


def test_on_a_trip_is_who_is_planned_or_met_on_one_of_its_rounds(trip):
    planned, met, other = desk.sitter(), desk.sitter(), desk.sitter()
    desk.plan(trip, planned)
    make(Print, person=met, round=make(Round, on=trip.last_day), state="checked")
    make(Print, person=other, state="checked")
    make(Meeting, person=desk.sitter(), trip=trip, state="called_off")
    assert codes(trip) == {planned.code, met.code}


@pytest.mark.parametrize("standing", ["never_ring", "said_no", "let_go", "spoken_for"])
def test_nobody_whom_nobody_rings_is_on_it(trip, standing):
    person = desk.sitter()
    desk.plan(trip, person)
    assert codes(trip) == {person.code}
    Participant.objects.filter(pk=person.pk).update(standing=standing)
    assert codes(trip) == set()


def test_nobody_with_an_open_hold_is_on_it(trip):
    person = desk.sitter()
    desk.plan(trip, person)
    make(PersonHold, person=person)
    assert codes(trip) == set()


def test_nobody_is_on_it_who_does_not_want_whoever_it_is_made_for(trip):
    person = desk.sitter()
    desk.plan(trip, person)
    refuse(person=person, user=cast.assistant(), on=cast.TODAY, by=cast.artist())
    assert codes(trip) == set()


def test_prints_that_have_ended_are_no_reason(trip):
    person = desk.sitter()
    desk.plan(trip, person)
    make(Print, person=person, state="acknowledged", picture=make(Picture))
    due = make(Print, person=person, state="checked", picture=make(Picture))
    assert travelling.on_the_trip(trip, cast.assistant()).prints == [due]


def test_rows_hold_the_listed_fields_of_those_on_it_and_no_other(trip):
    person = desk.sitter("ar fr", call_name="Danuta", level="grave", instruction="ring at noon")
    desk.plan(trip, person)
    make(Participant, call_name="Bruno")
    found = rows(trip)
    assert list(found) == list(CARRIED)
    (one,) = found["people.Participant"]
    assert (one["code"], one["call_name"]) == (person.code, "Danuta")
    assert set(one) == set(CARRIED["people.Participant"])
    assert "Bruno" not in json.dumps(found)
    assert "grave" not in json.dumps(found)


def test_names_of_others_are_taken_out_of_free_words(trip):
    person = desk.sitter(may_say="Bruno sent me", instruction="ask for Danuta Zephirine")
    desk.plan(trip, person)
    make(Name, person=person, text="Zephirine")
    make(Participant, call_name="Bruno")
    (one,) = rows(trip)["people.Participant"]
    assert (one["may_say"], one["instruction"]) == ("… sent me", "ask for Danuta …")


def test_name_that_is_spelt_otherwise_takes_the_whole_line_with_it(trip):
    desk.plan(trip, desk.sitter(may_say="BRUNO sent me"))
    make(Participant, call_name="Bruno")
    (one,) = rows(trip)["people.Participant"]
    assert one["may_say"] == ""


def test_line_of_somebody_outside_stays_home_and_so_does_one_that_ended(trip):
    person, guardian = desk.sitter(), make(Participant)
    desk.plan(trip, person)
    own = make(PhoneLine, person=person, number="+33465710012")
    make(PhoneLine, person=person, through=guardian)
    make(PhoneLine, person=person, ended_on=cast.TODAY)
    make(PhoneLine, person=guardian)
    assert [one["id"] for one in rows(trip)["people.PhoneLine"]] == [str(own.pk)]


def test_blanks_that_are_signed_out_are_carried_by_serial_and_language(trip):
    desk.plan(trip, desk.sitter())
    blanks = desk.blank_forms(trip, fr=2)
    found = rows(trip)
    serials = {one["serial"] for one in found["documents.Sheet"]}
    assert serials == {form.sheet.serial for form in blanks}
    assert {one["language"] for one in found["consent.Wording"]} == {"fr", "en"}


def test_set_opens_nothing_that_was_sealed_to_the_register(trip):
    (key,) = rows(trip)["privacy.OutboxKey"]
    assert set(key) == {"id", "public"}
    assert key["id"] == str(OutboxKey.objects.get().pk)


@pytest.fixture
def told(monkeypatch):
    """What the set's own process is told; it makes nothing."""
    said = []
    monkeypatch.setattr(sets, "inside", lambda root, command, what: said.append(what))
    return said


def make_set(trip, tmp_path):
    now = cast.moment(trip.first_day)
    return travelling.make(trip=trip, made_for=cast.assistant(), root=tmp_path, at=now, **WORDS)


def test_whoever_is_in_it_is_in_sight_until_its_last_day_and_leaves_a_line(trip, tmp_path, told):
    person = desk.sitter()
    desk.plan(trip, person)
    row = make_set(trip, tmp_path)
    days = InSight.objects.filter(person=person, user=cast.assistant())
    seen = sorted({one.day for one in days if one.day >= trip.first_day})
    assert (seen[0], seen[-1], len(seen)) == (trip.first_day, trip.last_day, 14)
    assert AccessEntry.objects.filter(verb="carried", key=person.log_key).count() == 1
    assert told[0]["statement"] == {"trip": "T7", "until": "2026-12-13", "key": str(row.pk)}
    assert told[0]["secret"] == row.secret
    assert len(row.secret) >= 43  # 256 random bits in base64


def test_set_that_did_not_come_about_is_given_up(trip, tmp_path, monkeypatch):
    def fail(*_args):
        raise NoSet("the disk is full")

    monkeypatch.setattr(sets, "inside", fail)
    desk.plan(trip, desk.sitter())
    with pytest.raises(NoSet):
        make_set(trip, tmp_path)
    assert TravellingSet.objects.get().ended_how == "given_up"


def test_filling_makes_up_what_a_row_cannot_be_without(trip, tmp_path, told):
    person = desk.sitter("ar", call_name="Danuta", level="grave", born_said="in the war")
    desk.plan(trip, person, others=2)
    make(PhoneLine, person=person, number="+33465710012", note="her sister's")
    picture = make(Picture, code="K12")
    make(Print, person=person, state="not_home", picture=picture, place="third door")
    make_set(trip, tmp_path)
    said = through_the_pipe(told[0])
    gone = (Print, Picture, PhoneLine, Meeting, InSight, Participant, TravellingSet)
    for model in (*gone, OutboxKey, type(trip), User):
        model.objects.all().delete()
    travelling.fill(said)
    there = Participant.objects.get()
    assert (there.code, there.call_name, there.languages) == (person.code, "Danuta", "ar")
    assert (there.level, there.born_said, there.standing) == ("", "", "meeting_agreed")
    line = there.lines.get()
    assert (line.number, line.note, bool(line.mark)) == ("+33465710012", None, True)
    row = there.prints.get()
    assert (row.picture.code, row.state, row.place) == ("K12", "not_home", None)
    assert not row.picture.sitting.sitters.exists()
    assert there.meetings.get().others == 2
    user = User.objects.get()
    assert (user.role, user.username) == ("assistant", "loic")
    assert user.check_password(WORDS["password"])
    assert OutboxKey.objects.get().private == ""
