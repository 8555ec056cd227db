"""Askings for the whole register: in which order they come back; the rest is in `test_models`."""

import pytest

from relations.privacy.models import User
from relations.rights.taken import TakingOut
from tests.rows import AT, LATER, come_back_in_order, make

pytestmark = pytest.mark.django_db


def test_askings_come_back_newest_first():
    over = {"is_open": None, "ended_at": LATER, "ended_how": "refused", "ended_by": make(User)}
    assert come_back_in_order(TakingOut, {"asked_at": LATER}, {"asked_at": AT, **over})
