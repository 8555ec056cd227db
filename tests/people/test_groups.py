"""Groups and those outside: what is kept of either, and in which order groups stand."""

import pytest

from relations.people.models import Community, OutsideIntroducer
from tests.rows import come_back_in_order

pytestmark = pytest.mark.django_db


def test_groups_stand_by_their_neutral_names_and_nothing_says_what_they_are():
    assert come_back_in_order(
        Community, {"key": "b", "name": "Aulne"}, {"key": "a", "name": "Frêne"}
    )
    fields = {field.name for field in Community._meta.fields}
    assert fields == {"id", "key", "name", "is_raised", "hoped_for"}


def test_somebody_outside_is_a_label_and_two_days():
    fields = {field.name for field in OutsideIntroducer._meta.fields}
    assert fields == {"id", "code", "label", "accepted_on", "thanked_on"}
