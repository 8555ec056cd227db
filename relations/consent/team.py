"""What the sheets say that the team fills in with a pen: codes, lines to tick and to write on."""

from collections.abc import Mapping, Sequence

from relations.documents.columns import Line, Pair, line
from relations.documents.values import PaperKind
from relations.meetings.values import EXPLAINED, TOLD_BACK
from relations.pictures.values import Recognisable

from . import spot
from .completeness import Way

KINDS = (PaperKind.MEETING, PaperKind.SITTING, PaperKind.SPOT, PaperKind.RECEIPT)
# Two sheets of film share a holder; more than six holders are a second sheet of paper.
FILM = range(1, 13)
PLACES = 8
HANDS = ("hand_own", "hand_chosen", "hand_kept")
COVERS = ("sealed", "open")

Values = Mapping[str, object]


def of_meeting(*, person: str, languages: Sequence[str], interpreter: str = "") -> Values:
    """A meeting: the person's code, their languages as tags and the interpreter's initials.

    Place, day, hour and company are written by hand, each on a line of its own; the place never.
    """
    return {
        "person": person,
        "languages": ", ".join(languages),
        "interpreter": interpreter,
        "explained": [(code, f"explained_{code}") for code in EXPLAINED],
        "told_back": [(code, f"told_back_{code}") for code in TOLD_BACK],
    }


def of_sitting(*, sitting: str, people: Sequence[str]) -> Values:
    """A sitting: its code, and the codes of who sits.

    Where they stand in the frame is seen only there, so their codes are in one line above the
    places, which stay empty.
    """
    return {
        "sitting": sitting,
        "people": ", ".join(people),
        "sheets": FILM,
        "places": range(1, max(PLACES, len(people) + 1) + 1),
        "recognisable": [str(code) for code in Recognisable],
    }


def of_form(*, serial: str) -> Values:
    """A form, before anybody leaves: the rows are those of the rule that weighs it later."""
    return {
        "form": serial,
        "ways": [f"way_{way}" for way in Way],
        "missing": spot.missing(),
        "doubts": spot.doubts(),
    }


def of_print(*, code: str) -> Values:
    """A print that was given: its code, and never whose it is."""
    return {"print": code, "hands": HANDS, "covers": COVERS}


def blank(kind: PaperKind) -> Values:
    """A sheet about nothing, for a proof of its words."""
    return {
        PaperKind.MEETING: lambda: of_meeting(person="", languages=()),
        PaperKind.SITTING: lambda: of_sitting(sitting="", people=()),
        PaperKind.SPOT: lambda: of_form(serial=""),
        PaperKind.RECEIPT: lambda: of_print(code=""),
    }[kind]()


def foot(columns: Pair, *, by_artist: bool, at: str) -> Line:
    """Who printed it, by what they do, and when (`at` as it is to be printed): no name."""
    who = "by_artist" if by_artist else "by_assistant"
    said = [(f"{column.labels['printed']} {column.labels[who]} ·", at) for column in columns]
    return line(columns, "foot", said)
