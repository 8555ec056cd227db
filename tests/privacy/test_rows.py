"""A field of codes is held to its codes by the database itself."""

from enum import StrEnum

import pytest
from django.db import IntegrityError, transaction

from relations.privacy.rows import choices_of, held_to
from tests.rows import make


class Fruit(StrEnum):
    PEAR = "pear"
    PLUM = "plum"


def test_choices_and_constraint_know_every_code_and_no_other():
    assert choices_of(Fruit) == [("pear", "pear"), ("plum", "plum")]
    held = held_to(Fruit, "fruit", "fruit_known")
    assert (held.name, held.condition.children) == (
        "fruit_known",
        [("fruit__in", ["pear", "plum"])],
    )


@pytest.mark.django_db
def test_database_refuses_an_entry_in_no_state():
    from relations.privacy.models import OutboxEntry

    row = make(OutboxEntry)
    with pytest.raises(IntegrityError), transaction.atomic():
        OutboxEntry.objects.filter(pk=row.pk).update(state="lost")
