"""Every table and every field of the site leaves with the register, or stays with a reason."""

import pytest
from django.apps import apps

from relations.rights.taking_out_table import LEFT_OUT, NOT_SAID, OF_US, TAKEN

WEB = {"people.Introduction", "people.OutsideIntroducer", "people.Community", "referrals.Shared"}


def all_of(label):
    meta = apps.get_model(label)._meta
    return {one.name: one for one in (*meta.concrete_fields, *meta.local_many_to_many)}


def test_every_table_is_in_it_or_left_out_with_a_reason():
    there = {model._meta.label for model in apps.get_models()}
    assert {*TAKEN, *LEFT_OUT} == there
    assert not set(TAKEN) & set(LEFT_OUT)
    assert all(len(why.split()) > 3 for why in (LEFT_OUT | NOT_SAID).values())


@pytest.mark.parametrize("label", TAKEN)
def test_every_field_is_in_it_or_left_out_with_a_reason(label):
    """But for its own key, which is `id`, and for who of us did it, which is nobody else's."""
    fields = all_of(label)
    of_us = {n for n, f in fields.items() if f.is_relation and f.related_model._meta.label == OF_US}
    named = {n for n in fields if f"{label}.{n}" in NOT_SAID}
    said = set(TAKEN[label].names)
    assert said | named | of_us | {"id"} == set(fields)
    assert not said & (named | of_us)


@pytest.mark.parametrize("label", TAKEN)
def test_a_link_leads_to_a_table_that_is_in_it_and_words_have_a_person(label):
    held = TAKEN[label]
    links = [one for name, one in all_of(label).items() if name in held.names and one.is_relation]
    assert all(one.related_model._meta.label in TAKEN for one in links)
    many = {one.name for one in links if one.many_to_many}
    assert many == set(held.many.split())
    assert bool(held.words) == bool(held.person)
    assert set(held.words.split()) <= set(held.fields.split())


def test_what_is_left_out_of_a_table_is_there_and_the_table_is_in_it():
    for name in NOT_SAID:
        label, _, field = name.rpartition(".")
        assert field in all_of(label), name
        assert label in TAKEN


def test_nothing_of_the_web_and_nothing_that_opens_a_door_is_in_it():
    assert set(LEFT_OUT) >= WEB
    assert not [label for label in TAKEN if label.startswith(("privacy.", "auth.", "sessions."))]
    said = {f"{label}.{name}" for label, held in TAKEN.items() for name in held.names}
    for name in ("heard_on", "standing_since", "community", "agreed_word", "thanked_on"):
        assert f"people.Participant.{name}" not in said
    assert not {name for name in said if name.rpartition(".")[2] in {"introducer", "through"}}
