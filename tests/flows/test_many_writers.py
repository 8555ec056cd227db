"""Eight of us write at the same moment, and none is told to come back later."""

import pytest

from tests.writers import PROCESSES, TURNS, write

pytestmark = pytest.mark.django_db


def test_eight_writers_are_never_told_that_the_database_is_locked(apart):
    came = write(apart, "site")
    assert came.faults == []
    assert (came.calls, came.counted) == (PROCESSES * TURNS, PROCESSES * TURNS)
