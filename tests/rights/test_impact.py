"""The impact assessment is whole: every stored field stands in it, and nothing else does."""

from collections import defaultdict

import pytest
from django.apps import apps

from relations.privacy.fields import SealedField
from relations.rights import impact
from relations.rights.impact import Clock, Kept, Reader, Thing, compare
from relations.rights.impact_table import LISTED, stored
from relations.rights.leaving import GOES, WHAT_STAYS
from tests.house import fields as house

# Clocks that do not end with a person: what stays when one is erased has one of these.
NOT_OF_A_PERSON = {
    *(Clock.PROJECT, Clock.COPIES, Clock.FORM, Clock.RINGS, Clock.LINKS, Clock.TASK),
    *(Clock.LOG, Clock.DEVICE, Clock.DAYS, Clock.ACCOUNT, Clock.SESSION),
}
BY_ROLE = {
    "artist": Reader.ARTIST,
    "assistant": Reader.ASSISTANT,
    "wording_reader": Reader.WORDING_READER,
    "keeper": Reader.KEEPER,
}


def kept(fields, **more):
    return Kept(Thing.PERSON, Clock.PERSON, "AS", "why", fields, **more)


def test_every_field_of_every_table_is_listed_and_no_other():
    """Asked of the models anew, not by the function that the site asks."""
    models = {
        f"{model._meta.label}.{name}"
        for model in apps.get_models()
        for name in [
            *(field.name for field in model._meta.concrete_fields),
            *(field.name for field in model._meta.many_to_many),
        ]
    }
    listed = {f"{label}.{name}" for label, one in LISTED.items() for name in one.names}
    assert len(models) > 700
    assert listed == models
    assert compare(LISTED, stored()) == ([], [])


def test_field_that_is_missing_is_named():
    found = compare({"a.B": kept("id")}, {"a.B": ["id", "faith"], "a.C": ["id"]})
    assert found == (["a.B.faith", "a.C.id"], [])


def test_field_that_is_not_stored_is_named_and_so_is_a_note_of_none():
    listed = {"a.B": kept("id gone", notes={"id": "a key", "never": "x"}), "a.C": kept("id")}
    assert compare(listed, {"a.B": ["id"]}) == ([], ["a.B.gone", "a.B.never", "a.C.id"])


def test_field_that_is_listed_twice_is_named():
    assert compare({"a.B": kept("id id")}, {"a.B": ["id"]}) == ([], ["a.B.id"])


def test_note_is_of_a_field_that_is_listed_too():
    assert compare({"a.B": kept("id", notes={"id": "a key"})}, {"a.B": ["id"]}) == ([], [])


def test_tables_stand_by_thing_in_the_order_of_the_life_of_a_portrait():
    listed = {"a.B": Kept(Thing.PRINTS, Clock.PERSON, "A", "why", "id"), "a.C": kept("id")}
    assert list(impact.by_thing(listed)) == [
        (Thing.PERSON, {"a.C": listed["a.C"]}),
        (Thing.PRINTS, {"a.B": listed["a.B"]}),
    ]
    assert [thing for thing, _ in impact.by_thing(LISTED)] == list(Thing)


def test_readers_are_told_by_their_letters():
    assert kept("id").who == (Reader.ARTIST, Reader.ASSISTANT)
    with pytest.raises(ValueError, match="is not a valid Reader"):
        _ = Kept(Thing.PERSON, Clock.PERSON, "AX", "why", "id").who


def test_every_table_says_why_how_long_and_who():
    for label, one in LISTED.items():
        assert str(one.why).strip().endswith("."), label
        assert one.who and len(set(one.who)) == len(one.who), label
        assert (Reader.NOBODY in one.who) <= (len(one.who) == 1), label
    assert len({str(one.why) for one in LISTED.values()}) == len(LISTED)


@pytest.mark.parametrize("row", house.read(house.TABLE), ids=lambda row: row.what)
def test_whoever_may_read_a_field_is_among_the_readers_of_its_table(row):
    """Source: the design of the job, section 4, as the pages are asked by it."""
    who = LISTED[row.field.rsplit(".", 1)[0]].who
    for role, reader in BY_ROLE.items():
        assert row.cells[role] not in {"R", "r"} or reader in who


@pytest.mark.parametrize("role", ["wording_reader", "keeper"])
def test_no_role_is_said_to_read_a_table_of_which_the_pages_show_it_nothing(role):
    """Of tables that hold little but what is sealed."""
    letters = defaultdict(set)
    for row in house.read(house.TABLE):
        letters[row.field.rsplit(".", 1)[0]].add(row.cells[role])
    for label in ("people.Name", "people.PhoneLine", "people.Speaker", "meetings.Helper"):
        assert letters[label] == {"-"} and BY_ROLE[role] not in LISTED[label].who


def test_what_stays_after_an_erasing_has_a_clock_of_its_own():
    for label in WHAT_STAYS:
        assert LISTED[label].clock in NOT_OF_A_PERSON, label
    for label in GOES:
        assert LISTED[label].clock not in {Clock.LOG, Clock.ACCOUNT, Clock.SESSION}, label


def test_no_sealed_field_lies_in_a_table_of_which_nobody_says_who_reads_it():
    sealed = {
        model._meta.label
        for model in apps.get_models()
        if any(isinstance(field, SealedField) for field in model._meta.get_fields())
    }
    assert sealed
    nobody = {label for label in sealed if LISTED[label].who == (Reader.NOBODY,)}
    assert nobody == {"privacy.OutboxKey"}
