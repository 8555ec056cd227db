"""Every table and every field of a person is in their file, or left out with a reason."""

import pytest
from django.apps import apps

from relations.rights.file_left_out import LEFT_OUT, NEVER_SAID
from relations.rights.file_table import HOLDS, PARTS
from relations.rights.leaving import BLANKED, GOES


def test_every_table_somebody_can_stand_in_is_held_or_left_out_with_a_reason():
    assert sorted((*HOLDS, *LEFT_OUT)) == sorted({*GOES, *BLANKED})


@pytest.mark.parametrize("label", HOLDS)
def test_every_field_of_a_table_that_is_held_is_said_or_never(label):
    """A link is said by what stands at its other end, or is somebody else."""
    fields = [one for one in apps.get_model(label)._meta.concrete_fields if not one.is_relation]
    left = {one.name for one in fields} - set(HOLDS[label].fields)
    assert not {name for name in left if not {name, f"{label}.{name}"} & set(NEVER_SAID)}


@pytest.mark.parametrize("label", HOLDS)
def test_what_is_said_of_a_table_is_there(label):
    held, model = HOLDS[label], apps.get_model(label)
    for path in held.fields:
        *links, last = path.split("__")
        end = model
        for link in links:
            end = end._meta.get_field(link).related_model
        assert end._meta.get_field(last)
    assert set(held.own) <= set(held.fields) and held.part in PARTS
    model._base_manager.filter(**dict.fromkeys(held.ways))  # each way leads to somebody


def test_no_link_to_anybody_is_followed():
    links = {"introducer", "outside", "speaker", "through", "interpreter", "witness", "by"}
    for label, held in HOLDS.items():
        followed = {path.split("__")[0] for path in held.fields if "__" in path}
        assert not followed & links, label
