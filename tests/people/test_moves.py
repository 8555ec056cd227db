"""A move abroad: since when, never where to."""

import pytest

from relations.people.models import MovedAbroad, Participant
from tests.rows import DAY, NEXT_DAY, come_back_in_order, make

pytestmark = pytest.mark.django_db


def test_the_newest_move_comes_first_and_no_country_is_kept():
    person = make(Participant)
    assert come_back_in_order(
        MovedAbroad, {"person": person, "since": NEXT_DAY}, {"person": person, "since": DAY}
    )
    fields = {field.name for field in MovedAbroad._meta.fields}
    assert fields == {"id", "person", "since", "asked_again_on"}
