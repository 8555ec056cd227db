"""What came of a door on a round, and the steps of the print that follow from it."""

from enum import StrEnum

from .rules import TRIES, PrintState


class AtDoor(StrEnum):
    """What came of one door; `not_reached`: the round ended before it."""

    GIVEN = "given"
    HANDED_ON = "handed_on"
    NOT_HOME = "not_home"
    NOT_SAFE = "not_safe"
    GAVE_BACK = "gave_back"
    LOST = "lost"
    NOT_REACHED = "not_reached"


S = PrintState
STEPS: dict[AtDoor, tuple[PrintState, ...]] = {
    # Given in person is word from them: nothing more is asked (job.md row 31).
    AtDoor.GIVEN: (S.IN_HAND, S.ACKNOWLEDGED),
    AtDoor.HANDED_ON: (S.HANDED_ON,),
    AtDoor.NOT_HOME: (S.NOT_HOME,),
    AtDoor.NOT_SAFE: (S.NOT_SAFE, S.KEPT_FOR_THEM),
    AtDoor.GAVE_BACK: (S.IN_HAND, S.RETURNED_BY_THEM),
    AtDoor.LOST: (S.LOST,),
    # It is still in the bag, and goes on the next round.
    AtDoor.NOT_REACHED: (),
}


def steps(came: AtDoor, tries: int) -> tuple[PrintState, ...]:
    """Give the steps of a print that was out, in order; `tries`: how often nobody was home before.

    After two failures the sitter is asked for a better way, never the neighbours (job.md row 30).
    """
    if came is AtDoor.NOT_HOME and tries + 1 >= TRIES:
        return (S.NOT_HOME, S.LOOKING_FOR_A_WAY)
    return STEPS[came]
