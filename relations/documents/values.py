"""The kinds of paper that the site prints, and the letter that each bears in its square code."""

from collections.abc import Mapping
from enum import StrEnum


class PaperKind(StrEnum):
    """What a printed paper is for."""

    FORM = "form"
    EXPLANATION = "explanation"
    STOP_CARD = "stop_card"
    TAKE_BACK = "take_back"
    MEETING = "meeting"
    SITTING = "sitting"
    SPOT = "spot"
    RECEIPT = "receipt"
    ANSWER = "answer"
    NOTICE = "notice"
    DAY = "day_sheet"
    LAB_SLIP = "lab_slip"


# One capital letter each: what a scanner reads before it knows the serial.
LETTERS: Mapping[PaperKind, str] = {
    PaperKind.FORM: "F",
    PaperKind.EXPLANATION: "E",
    PaperKind.STOP_CARD: "C",
    PaperKind.TAKE_BACK: "T",
    PaperKind.MEETING: "M",
    PaperKind.SITTING: "S",
    PaperKind.SPOT: "P",
    PaperKind.RECEIPT: "R",
    PaperKind.ANSWER: "A",
    PaperKind.NOTICE: "N",
    PaperKind.DAY: "D",
    PaperKind.LAB_SLIP: "L",
}
# In the language of the screen alone, and laid out by its own room: no wording has words for it.
ALONE = frozenset({PaperKind.LAB_SLIP})
WORDED = tuple(kind for kind in PaperKind if kind not in ALONE)
