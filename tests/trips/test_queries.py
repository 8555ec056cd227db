"""What was signed out to a trip, out of the register."""

import pytest

from relations.consent.models import Form
from relations.meetings.models import Trip
from relations.trips import queries
from tests.rows import make

pytestmark = pytest.mark.django_db


def test_blanks_of_a_trip_are_those_signed_out_to_it_in_one_query(django_assert_num_queries):
    mine, other = make(Trip), make(Trip)
    lost = make(Form, trip=mine, state="missing")
    make(Form, trip=mine, state="spoilt")
    make(Form, trip=other, state="missing")
    make(Form, state="carried")
    with django_assert_num_queries(1):
        found = queries.blanks(mine)
    assert found.printed == 2
    assert found.missing == (lost.sheet.serial,)
