"""What came of a door, and the steps that follow: each is a way of the state model."""

import pytest

from relations.prints.doors import STEPS, AtDoor, steps
from relations.prints.rules import TRIES, Facts, PrintState, may_move

S = PrintState


@pytest.mark.parametrize("tries", range(TRIES + 1))
@pytest.mark.parametrize("came", AtDoor)
def test_steps_of_a_door_may_be_taken_one_after_another(came, tries):
    old = S.OUT_ON_A_ROUND
    for new in steps(came, tries):
        assert may_move(old, new, Facts(rounds=tries)) == ()
        old = new


def test_everything_that_can_come_of_a_door_has_its_steps():
    assert set(STEPS) == set(AtDoor)
    assert steps(AtDoor.GIVEN, 0) == (S.IN_HAND, S.ACKNOWLEDGED)
    assert steps(AtDoor.NOT_SAFE, 0)[-1] is S.KEPT_FOR_THEM
    assert steps(AtDoor.NOT_REACHED, 0) == ()


def test_after_two_failures_a_better_way_is_asked_for():
    assert steps(AtDoor.NOT_HOME, 0) == (S.NOT_HOME,)
    assert steps(AtDoor.NOT_HOME, 1) == (S.NOT_HOME, S.LOOKING_FOR_A_WAY)
    assert steps(AtDoor.NOT_HOME, 2) == (S.NOT_HOME, S.LOOKING_FOR_A_WAY)
