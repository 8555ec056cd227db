"""Tables of how things end: in which order they come back; what they refuse is in `test_models`."""

import pytest

from relations.people.models import Participant
from relations.privacy.models import User
from relations.rights.ends import Closing, ToIntroduce
from tests.rows import DAY, NEXT_DAY, come_back_in_order, make

pytestmark = pytest.mark.django_db


def test_closings_come_back_newest_first():
    earlier = {
        "begun_on": DAY,
        "called_off_by": make(User),
        "is_current": None,
        "called_off_on": DAY,
    }
    assert come_back_in_order(Closing, {"begun_on": NEXT_DAY}, earlier)


def test_those_to_be_told_come_back_by_their_codes():
    first, second = make(Participant, code="07"), make(Participant, code="12")
    assert come_back_in_order(ToIntroduce, {"person": first}, {"person": second})
