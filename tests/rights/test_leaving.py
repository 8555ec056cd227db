"""What goes, what is blanked, what stays: every table of the site is in exactly one place."""

import pytest
from django.apps import apps
from django.db import models

from relations.people.models import Participant, PhoneLine
from relations.privacy.fields import SealedField
from relations.rights import leaving
from relations.rights.blanking import BLANKING
from relations.rights.leaving import BLANKED, COUNTED, GOES, WHAT_STAYS
from tests.rights.everything import everything
from tests.rows import make

OURS = [model for model in apps.get_models() if model.__module__.startswith("relations.")]


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path


def reached():
    """Every table from which a path of foreign keys, one or many, leads to a person."""
    found, waiting = set(), [Participant]
    while waiting:
        model = waiting.pop()
        if model._meta.label not in found:
            found.add(model._meta.label)
            waiting += [one.related_model for one in model._meta.related_objects]
    return found


def test_every_table_goes_is_blanked_or_stays_with_a_reason():
    placed = [*GOES, *(label for label in BLANKED if label not in GOES), *WHAT_STAYS]
    assert sorted(placed) == sorted(model._meta.label for model in OURS)
    assert all(WHAT_STAYS.values())


def test_every_path_to_a_person_and_every_sealed_field_is_in_the_tables():
    """The same, walked: a table that is new anywhere is found by one of the two."""
    sealed = {
        model._meta.label
        for model in OURS
        if any(isinstance(field, SealedField) for field in model._meta.get_fields())
    }
    assert len(reached()) > 30
    assert reached() | sealed <= {*GOES, *BLANKED, *WHAT_STAYS}


def test_every_link_to_a_person_is_a_way_that_is_gone_or_blanked():
    for model in OURS:
        for field in model._meta.get_fields():
            if not (field.concrete and field.related_model is Participant):
                continue
            label = model._meta.label
            assert field.name in GOES.get(label, ()) or label in BLANKED, f"{label}.{field.name}"


def test_what_is_blanked_is_blanked_by_a_function_of_its_own():
    assert set(BLANKING) == set(BLANKED)


def test_what_is_counted_together_goes():
    assert {label for labels in COUNTED.values() for label in labels} <= set(GOES)


def test_a_table_goes_before_what_holds_it():
    order = list(GOES)
    for label in order:
        for field in apps.get_model(label)._meta.concrete_fields:
            if field.is_relation and field.remote_field.on_delete is models.PROTECT:
                held = field.related_model._meta.label
                if held in GOES:
                    assert order.index(label) < order.index(held), f"{label} holds {held}"


@pytest.mark.django_db
def test_counts_say_how_much_and_never_who():
    counts = leaving.counts(everything().person)
    assert counts == {
        "names": 5,
        "links": 2,
        "talks": 5,
        "forms": 2,
        "noes": 2,
        "quotes": 1,
        "prints": 2,
        "alone": 1,
        "together": 1,
        "mended": 2,
    }


def test_tables_are_named_with_those_between_two_others():
    assert {"people_participant", "pictures_sitting_sitters", "rights_alarm_affected"} <= set(
        leaving.tables()
    )


@pytest.mark.django_db
def test_kinds_that_a_notice_names_are_those_that_are_there():
    person = make(Participant)
    assert leaving.kinds(person) == ["name"]
    make(PhoneLine, person=person)
    assert leaving.kinds(person) == ["name", "ways"]


def test_every_table_a_notice_names_goes_with_the_person():
    named = {label for labels in leaving.NAMED.values() for label in labels}
    assert named <= set(leaving.GOES)
