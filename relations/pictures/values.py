"""What can be said of a frame and of those in it: plain codes."""

from collections.abc import Collection
from enum import StrEnum


class Light(StrEnum):
    """The light of a sitting."""

    AVAILABLE = "available"
    FLASH = "flash"


class SheetState(StrEnum):
    """What became of an exposed sheet of film."""

    EXPOSED = "exposed"
    PROCESSED = "processed"
    LOST = "lost"


class Others(StrEnum):
    """Whether anybody recognisable is in the frame who is not among its sitters."""

    NONE = "none"
    SETTLED = "settled"
    UNRESOLVED = "unresolved"
    # Somebody in the frame was erased. Nobody can say yes for them, so it is never shown again.
    ERASED = "erased"


class PlaceWord(StrEnum):
    """How finely a place may be told, from nothing to the door."""

    NONE = "none"
    COUNTRY = "country"
    CITY = "city"
    DISTRICT = "district"
    EXACT = "exact"


class Recognisable(StrEnum):
    """Whether a sitter can be recognised in this frame; unsure counts as yes."""

    YES = "yes"
    NO = "no"
    UNSURE = "unsure"


class Became(StrEnum):
    """What became of somebody in the frame who did not sit."""

    NOT_ASKED = "not_asked"
    SAID_YES = "said_yes"
    SAID_NO = "said_no"
    NOT_RECOGNISABLE = "not_recognisable"


def others(strangers: Collection[Became]) -> Others:
    """What all that became of the strangers of a frame makes of it: one is enough to keep it off.

    Source: job.md, STRANGER: somebody recognisable is unresolved, also in a picture inside it.
    """
    if not {Became.NOT_ASKED, Became.SAID_NO}.isdisjoint(strangers):
        return Others.UNRESOLVED
    return Others.SETTLED if Became.SAID_YES in strangers else Others.NONE
