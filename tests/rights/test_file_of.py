"""What is held about somebody, as plain values: a row of every table, and nobody else in it."""

import json
from datetime import date

import pytest

from relations.meetings.models import Meeting
from relations.people.models import Introduction, Name, Participant, PhoneLine, Speaker
from relations.pictures.models import Caption, Quote
from relations.rights.file_of import FORMAT, SOMEBODY, as_data, file_of
from relations.rights.file_table import HOLDS
from tests.rights.everything import everything
from tests.rows import DAY, make

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path


def data(person: Participant):
    """The JSON as whoever gets it reads it."""
    return json.loads(json.dumps(as_data(file_of(person), DAY), ensure_ascii=False))


def rows(person: Participant, table: str):
    return [row["fields"] for row in data(person)["held"] if row["table"] == table]


def test_a_row_of_every_table_that_is_held():
    found = data(everything().person)
    assert {row["table"] for row in found["held"]} == set(HOLDS)
    for row in found["held"]:
        assert list(row["fields"]) == list(HOLDS[row["table"]].fields)


def test_its_keys_are_those_that_are_promised():
    person = make(Participant, code="Q7QQ9")
    found = data(person)
    assert list(found) == ["format", "code", "made_on", "held", "left_out"]
    assert (found["format"], found["code"]) == (FORMAT, "Q7QQ9")
    assert found["made_on"] == DAY.isoformat()


def test_what_is_of_others_stays_away():
    person, other = make(Participant), make(Participant, code="Q8RR3", call_name="Bruno Lazar")
    make(Name, person=other, text="Брунo")
    make(Introduction, person=person, introducer=other, may_say_who=True)
    make(Speaker, person=person, speaker=other, name="Bruno", way="04 65 71 00 35")
    make(Meeting, person=other, place="behind the mill")
    make(Meeting, person=person, place="at the quay, as Bruno Lazar said", company="q8rr3")
    said = json.dumps(data(person), ensure_ascii=False)
    for word in ("Bruno", "Брунo", "Q8RR3", "q8rr3", "behind the mill", "04 65 71 00 35"):
        assert word not in said, word
    assert f"at the quay, as {SOMEBODY} said" in said


def test_own_name_stays_where_somebody_else_has_the_same():
    person = make(Participant, call_name="Amina", instruction="Amina likes mornings")
    make(Participant, call_name="Amina")
    (mine,) = rows(person, "people.Participant")
    assert (mine["call_name"], mine["instruction"]) == ("Amina", "Amina likes mornings")


def test_a_number_through_somebody_is_that_persons():
    person, other = make(Participant), make(Participant)
    make(PhoneLine, person=person, as_typed="04 65 71 00 36", number="+33465710036", note="mine")
    make(PhoneLine, person=person, through=other, as_typed="04 65 71 00 35", number="+33465710035")
    said = sorted(row["as_typed"] for row in rows(person, "people.PhoneLine"))
    assert said == ["04 65 71 00 36", SOMEBODY]


def test_longer_words_of_others_are_taken_out_of_a_caption():
    found = everything()
    make(Quote, by=found.other, words="We danced until the lamps went out")
    caption = Caption.objects.filter(picture=found.together).first()
    caption.words = "“We danced until the lamps went out.”"
    caption.save()
    said = [row["words"] for row in rows(found.person, "pictures.Caption")]
    assert SOMEBODY in said and not [words for words in said if "danced" in words]


def test_days_hours_and_answers_have_types_that_json_has():
    person = make(Participant, born_earliest=date(1958, 4, 27), safe_hours=[["10:00", "12:00"]])
    (mine,) = rows(person, "people.Participant")
    assert mine["born_earliest"] == "1958-04-27" and mine["safe_hours"] == [["10:00", "12:00"]]
    assert mine["reads"] is None and mine["met_as_adult"] is False
