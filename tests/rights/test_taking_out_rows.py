"""The document of the whole register: every row as its table says, and nothing of the web."""

import json

import pytest

from relations.meetings.queries import NOT_RUNG
from relations.people.models import NeverRing, Participant, PersonHold
from relations.people.values import Condition, Standing
from relations.rights.taking_out_rows import FORMAT, SOMEBODY, document
from relations.rights.taking_out_table import LEFT_OUT, TAKEN
from tests import cast
from tests.rows import USUAL, make
from tests.rows import people as tables

pytestmark = pytest.mark.django_db
AT = cast.moment()


def whole():
    return b"".join(document(AT))


def of(label):
    return {row["id"]: row for row in json.loads(whole())["tables"][label]}


def test_every_table_is_there_with_every_field_and_one_writing_of_its_own():
    """RFC 8785: keys in order, no spaces, nothing escaped that need not be; written twice alike."""
    for model in USUAL:
        if model._meta.label in TAKEN:
            make(model)
    said = json.loads(whole())
    assert (said["format"], said["made_at"]) == (FORMAT, "2026-11-23T08:00:00Z")
    assert list(said["tables"]) == sorted(TAKEN)
    for label, rows in said["tables"].items():
        held = TAKEN[label]
        assert rows, label
        for row in rows:
            assert set(row) == {"id", *held.names, *held.worked_out.split()}
    assert not set(said["tables"]) & set(LEFT_OUT)
    again = json.dumps(said, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    assert whole() == again.encode() == whole()


def test_links_are_keys_lists_are_keys_and_values_are_plain():
    person = cast.person("51", "Olga", Standing.TAKING_PART, safe_hours=[["10:00", "12:00"]])
    picture = cast.person("52", "Ada")
    sitting = make(tables_of("pictures.Sitting"), on=cast.TODAY)
    sitting.sitters.set([person, picture])
    promise = make(
        tables_of("prints.Promise"), person=person, kind="sum", amount="12.50", currency="EUR"
    )
    assert of("pictures.Sitting")[str(sitting.pk)]["sitters"] == sorted(
        [str(person.pk), str(picture.pk)]
    )
    row = of("prints.Promise")[str(promise.pk)]
    assert (row["person"], row["amount"]) == (str(person.pk), "12.50")
    said = of("people.Participant")[str(person.pk)]
    assert (said["safe_hours"], said["call_name"]) == ([["10:00", "12:00"]], "Olga")


def tables_of(label):
    return next(model for model in USUAL if model._meta.label == label)


def test_whoever_told_us_of_somebody_is_taken_out_of_the_words_on_both_sides():
    first = cast.person("51", "Olga", instruction="Ask Ada (52) or chaplain, not Rosa.")
    second = cast.person("52", "Ada", instruction="Came by Olga, 04 65 71 00 35.")
    third = cast.person("53", "Rosa", instruction="Ada rings the chaplain.")
    make(tables.Introduction, person=second, introducer=first)
    outside = make(tables.OutsideIntroducer, code="X9", label="the chaplain")
    make(tables.Introduction, person=third, outside=outside)
    said = of("people.Participant")
    assert said[str(first.pk)]["instruction"] == f"Ask {SOMEBODY} or chaplain, not Rosa."
    assert "Olga" not in said[str(second.pk)]["instruction"]
    assert "0465710035" not in said[str(second.pk)]["instruction"].replace(" ", "")
    # Nobody told us of Rosa by Ada: such words stay as they are.
    assert said[str(third.pk)]["instruction"] == f"Ada rings {SOMEBODY}"
    assert b"the chaplain" not in whole()


def test_no_name_that_is_never_printed_no_number_of_another_and_none_that_is_never_rung():
    olga, ada = cast.person("51", "Olga", Standing.MET), cast.person("52", "Ada", Standing.MET)
    make(tables.Name, person=olga, kind="never_print", text="Olga Secret")
    make(tables.Name, person=olga, kind="own", text="Olga Public")
    cast.line(olga, "+33465710035", through=ada)
    cast.line(olga, "+33465710036")
    shut = cast.line(ada, "+33465710037")
    make(NeverRing, mark=shut.mark)
    gone = cast.person("53", "Rosa", Standing.NEVER_RING)
    cast.line(gone, "+33465710038")
    text = whole().decode()
    for word in ("Olga Secret", "+33465710035", "+33465710037", "+33465710038"):
        assert word not in text
    for word in ("Olga Public", "+33465710036"):
        assert word in text


def test_who_is_not_rung_now_has_no_number_for_a_card():
    def may(line):
        return of("people.PhoneLine")[str(line.pk)]["may_be_rung"]

    person = cast.person("51", "Olga", Standing.TAKING_PART)
    line = cast.line(person, "+33465710036")
    assert may(line)
    shared = cast.line(person, "+33465710040", is_shared=True)
    ended = cast.line(person, "+33465710041", ended_on=cast.TODAY)
    raw = make(tables.PhoneLine, person=person, as_typed="the bakery’s")
    assert [may(one) for one in (shared, ended, raw)] == [False] * 3
    for standing in NOT_RUNG - {Standing.NEVER_RING}:
        Participant.objects.filter(pk=person.pk).update(standing=standing)
        assert not may(line)
    Participant.objects.filter(pk=person.pk).update(
        standing=Standing.TAKING_PART, condition=Condition.CANNOT_ANSWER
    )
    assert not may(line)
    Participant.objects.filter(pk=person.pk).update(condition=Condition.WELL)
    hold = make(PersonHold, person=person)
    assert not may(line)
    hold.lifted_at, hold.lifted_by, hold.sentence = AT, cast.artist(), "Looked."
    hold.save()
    assert may(line)
