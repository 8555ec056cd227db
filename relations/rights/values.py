"""What may be lost or taken: plain codes."""

from enum import StrEnum


class Lost(StrEnum):
    """What an alarm is about."""

    PHONE = "phone"
    BAG = "bag"
    PAPERS = "papers"
    LAPTOP = "laptop"
