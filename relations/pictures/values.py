"""What can be said of a frame and of those in it: plain codes."""

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
