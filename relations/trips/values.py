"""What is counted on a trip and the heaps it is counted in: plain codes."""

from collections.abc import Mapping
from enum import StrEnum


class Counted(StrEnum):
    """What goes out on a trip and is counted when it comes home."""

    BLANKS = "blanks"  # counted by serial, see `rules.balance`
    FILM = "film"
    PRINTS = "prints"
    MONEY = "money"  # in the smallest unit of the trip's money
    RECORDINGS = "recordings"


class How(StrEnum):
    """The heaps of the things that are counted by hand."""

    TAKEN = "taken"
    EXPOSED = "exposed"
    UNUSED = "unused"
    PROCESSED = "processed"
    LOST = "lost"
    IN_HAND = "in_hand"
    HANDED_ON = "handed_on"
    KEPT = "kept"
    BROUGHT_BACK = "brought_back"
    SPENT = "spent"
    MADE = "made"
    SEALED = "sealed"
    DESTROYED = "destroyed"


# What is counted by hand of each thing, in the order in which it is asked.
COUNTS: Mapping[Counted, tuple[How, ...]] = {
    Counted.FILM: (How.TAKEN, How.UNUSED, How.EXPOSED, How.PROCESSED, How.LOST),
    Counted.PRINTS: (How.TAKEN, How.IN_HAND, How.HANDED_ON, How.KEPT, How.BROUGHT_BACK),
    Counted.MONEY: (How.TAKEN, How.SPENT, How.BROUGHT_BACK),
    Counted.RECORDINGS: (How.MADE, How.SEALED, How.DESTROYED),
}


class Part(StrEnum):
    """How much of a pack is printed."""

    WHOLE = "whole"
    SHORT = "short"
