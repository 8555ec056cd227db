"""What the sheets say that the team fills in with a pen: codes, lines to tick and to write on."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from string import ascii_uppercase

from relations.documents.columns import Line, Pair, line
from relations.documents.values import PaperKind
from relations.meetings.values import EXPLAINED, TOLD_BACK, MeetingState, Outcome, Work
from relations.pictures.values import Recognisable

from . import spot
from .completeness import Way

KINDS = (
    *(PaperKind.MEETING, PaperKind.SITTING, PaperKind.SPOT, PaperKind.RECEIPT),
    PaperKind.DAY,
)
# Two sheets of film share a holder; more than six holders are a second sheet of paper.
FILM = range(1, 13)
PLACES = 8
HANDS = ("hand_own", "hand_chosen", "hand_kept")
COVERS = ("sealed", "open")

# The boxes of each kind of line of the day sheet, in the order of the screen; each bears a letter.
DAY_BOXES: Mapping[Work, tuple[str, ...]] = {
    Work.STOP: ("all", "hold", "never"),
    Work.MEETING: (
        *(MeetingState.CONFIRMED, MeetingState.HELD, MeetingState.MOVED),
        *(MeetingState.NOBODY_CAME, MeetingState.CALLED_OFF),
    ),
    Work.DOOR: ("in_hand", "not_home", "not_safe", "handed_on", "lost"),
    Work.RING: (
        *(Outcome.NO_ANSWER, Outcome.OFF, Outcome.SOMEONE_ELSE, Outcome.WRONG_NUMBER),
        *("spoke", Outcome.YES_MEET, Outcome.RING_LATER, Outcome.THINKING),
        *(Outcome.WANTS_PICTURES, Outcome.NEEDS_INTERPRETER, Outcome.NO, Outcome.NEVER_AGAIN),
        *(Outcome.BROKE_OFF, Outcome.ASKS_WHO),
    ),
}
STOP_LINES = 3

Values = Mapping[str, object]


@dataclass(frozen=True)
class DayEntry:
    """One line of the day sheet: its number, whose it is by code, and what to know; no name.

    `more` is the print's code, the hour of a meeting or the safe hours of a ring.
    """

    work: Work
    number: int
    code: str = ""
    more: str = ""
    languages: str = ""
    may_say: str = ""
    what_to_do: str = ""
    is_shared: bool = False
    text_only: bool = False


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
    """A print that was given: the code on its slips, and never whose it is."""
    return {"print": code, "hands": HANDS, "covers": COVERS}


def lettered(work: Work) -> list[tuple[str, str]]:
    """Each box of a kind of line with its letter, from A on, as paper and screen show it."""
    return list(zip(ascii_uppercase, (str(code) for code in DAY_BOXES[work]), strict=False))


def of_day(*, day: str, entries: Iterable[DayEntry]) -> Values:
    """A day: its lines under their numbers, parted by what they are for."""
    held = list(entries)
    return {
        "day": day,
        "parts": {
            str(work): {
                "boxes": [(letter, code, f"{work}_{code}") for letter, code in lettered(work)],
                "entries": [one for one in held if one.work == work],
                # Cells beside number and code: boxes, hour, square, and of a ring the day named.
                "span": len(DAY_BOXES[work]) + (3 if work == Work.RING else 2),
            }
            for work in Work
        },
    }


def stop_lines() -> list[DayEntry]:
    """The lines for a stop that is heard: whose it is, is written with a pen."""
    return [DayEntry(Work.STOP, number) for number in range(1, STOP_LINES + 1)]


def blank(kind: PaperKind) -> Values:
    """A sheet about nothing, for a proof of its words."""
    return {
        PaperKind.MEETING: lambda: of_meeting(person="", languages=()),
        PaperKind.SITTING: lambda: of_sitting(sitting="", people=()),
        PaperKind.SPOT: lambda: of_form(serial=""),
        PaperKind.RECEIPT: lambda: of_print(code=""),
        PaperKind.DAY: lambda: of_day(day="", entries=_one_of_each()),
    }[kind]()


def _one_of_each() -> list[DayEntry]:
    rest = [DayEntry(work, STOP_LINES + n, is_shared=True, text_only=True)
            for n, work in enumerate((Work.MEETING, Work.DOOR, Work.RING), start=1)]  # fmt: skip
    return [*stop_lines(), *rest]


def foot(columns: Pair, *, by_artist: bool, at: str) -> Line:
    """Who printed it, by what they do, and when (`at` as it is to be printed): no name."""
    who = "by_artist" if by_artist else "by_assistant"
    said = [(f"{column.labels['printed']} {column.labels[who]} ·", at) for column in columns]
    return line(columns, "foot", said)
