"""What the rules about rings and meetings take and give: plain values, codes and no sentence."""

from dataclasses import dataclass
from datetime import date, datetime, time
from enum import StrEnum


class Outcome(StrEnum):
    """How a ring ended; one press each (job.md row 7)."""

    NO_ANSWER = "no_answer"
    OFF = "off"
    SOMEONE_ELSE = "someone_else"
    WRONG_NUMBER = "wrong_number"
    RING_LATER = "ring_later"
    THINKING = "thinking"
    WANTS_PICTURES = "wants_pictures"
    YES_MEET = "yes_meet"
    NO = "no"
    NEVER_AGAIN = "never_again"
    BROKE_OFF = "broke_off"
    NEEDS_INTERPRETER = "interpreter"
    ASKS_WHO = "asks_who"


class Kind(StrEnum):
    """What comes after a ring."""

    RING = "ring"
    PAUSE = "pause"
    ASK_INTRODUCER = "ask_introducer"
    NEVER = "never"
    ERASE = "erase"
    THEIRS = "theirs"
    NONE = "none"


class Part(StrEnum):
    """A part of the day in the sitter's own zone."""

    MORNING = "morning"
    AFTERNOON = "afternoon"
    EVENING = "evening"


@dataclass(frozen=True, slots=True, order=True)
class Window:
    """Hours of one day in the sitter's zone, the end not included."""

    start: time
    end: time

    def __post_init__(self) -> None:
        """Refuse a window that ends before it begins (ValueError)."""
        if self.start >= self.end:
            raise ValueError("a window cannot end before it begins")

    def holds(self, hour: time) -> bool:
        """Say whether an hour lies inside."""
        return self.start <= hour < self.end

    def cut(self, other: "Window") -> "Window | None":
        """Give the hours that two windows share."""
        start, end = max(self.start, other.start), min(self.end, other.end)
        return Window(start, end) if start < end else None


# When nothing is known: 10-12 and 14-19 local (F1).
PLAIN_HOURS = (Window(time(10), time(12)), Window(time(14), time(19)))
PARTS = {
    Part.MORNING: Window(time(8), time(12)),
    Part.AFTERNOON: Window(time(12), time(17)),
    Part.EVENING: Window(time(17), time(20)),
}


@dataclass(frozen=True, slots=True)
class SafeTimes:
    """When somebody may be rung: hours, and days of the week (0 is Monday); empty is not known.

    Hours not known are PLAIN_HOURS; days not known are all seven.
    """

    hours: tuple[Window, ...] = ()
    days: frozenset[int] = frozenset()

    def on(self, day: date) -> tuple[Window, ...]:
        """Give the windows of one day, earliest first; none on a day that is not safe."""
        if self.days and day.weekday() not in self.days:
            return ()
        return tuple(sorted(self.hours or PLAIN_HOURS))


NOTHING_SAID = SafeTimes()


@dataclass(frozen=True, slots=True)
class Clocks:
    """The defaults of F1 and F2, in days unless said; all are settings."""

    tries: int = 3
    pause: int = 90
    pauses: int = 2
    let_go_months: int = 12
    someone_else: int = 3
    someone_else_tries: int = 2
    thinking: int = 14
    broke_off: int = 7
    no: int = 30
    never_hours: int = 24
    rest: int = 30
    rest_load: int = 4


PLAIN_CLOCKS = Clocks()


@dataclass(frozen=True, slots=True)
class NextRing:
    """What follows a ring.

    `not_before`: aware, in the sitter's zone; None when nobody rings again unasked. `parts` and
    `windows`: the parts of that day to try, and their hours within the safe ones (empty: any safe
    hour). `erase_at`: when the row goes. `also`: codes of what else is to be done.
    """

    kind: Kind
    not_before: datetime | None = None
    parts: tuple[Part, ...] = ()
    windows: tuple[Window, ...] = ()
    erase_at: datetime | None = None
    also: tuple[str, ...] = ()


class CallState(StrEnum):
    """Where a ring, message or visit stands (job.md 2)."""

    PLANNED = "planned"
    UNDER_WAY = "under_way"
    MOVED = "moved"
    CALLED_OFF = "called_off"
    SPOKE = "spoke"
    NOT_REACHED = "not_reached"
    SOMEONE_ELSE = "someone_else"
    WRONG_NUMBER = "wrong_number"
    BROKEN_OFF = "broken_off"
    SETTLED = "settled"


class Work(StrEnum):
    """What a line of the day sheet is for (job.md row 5, in its order of need)."""

    STOP = "stop"
    MEETING = "meeting"
    DOOR = "door"
    RING = "ring"


class MeetingState(StrEnum):
    """Where a meeting stands (job.md 2)."""

    PROPOSED = "proposed"
    FIXED = "fixed"
    CONFIRMED = "confirmed"
    MOVED = "moved"
    CALLED_OFF = "called_off"
    HELD = "held"
    CUT_SHORT = "cut_short"
    NOBODY_CAME = "nobody_came"
    WRITTEN_UP = "written_up"


@dataclass(frozen=True, slots=True)
class MeetingFacts:
    """What is known about a meeting when a move is wanted; what is not known is no.

    `planned_on`: its day; `hours_since`: whole hours since it was held; `late_why`: a sentence
    is given on why it is written up late; `ended_why`: "safety" or "their_wish".
    """

    on: date
    planned_on: date | None = None
    place_is_theirs: bool = False
    has_exit_signal: bool = False
    times_moved: int = 0
    hours_since: int = 0
    late_why: bool = False
    ended_why: str = ""


# What is explained before the form is offered: the list of job.md row 13 and, up to the twelve
# ticks of the meeting sheet, what its form and cautions say of the same things.
EXPLAINED = (
    "who",
    "why",
    "what",
    "where_shown",
    "risks",
    "no_pay",
    "print",
    "may_say_no",
    "how_to_stop",
    "cannot_undo",
    "if_cannot_answer",
    "time_to_think",
)
# What they tell back in their own words.
TOLD_BACK = ("what_is_seen", "where", "who_decides", "how_to_stop")


@dataclass(frozen=True, slots=True)
class Missing:
    """What is still to be explained and to be told back, in the order of the sheet."""

    explained: tuple[str, ...] = ()
    told_back: tuple[str, ...] = ()


# How long a meeting is taken to last, in minutes: a talk, common practice, no source; a sitting by
# job.md row 16 (45 to set up, 30 to pack) around the 65 of its journey 3.
TALK_MINUTES = 60
SITTING_MINUTES = 140


class SetEnd(StrEnum):
    """How a travelling set ended before it came home."""

    ALARM = "alarm"
    GIVEN_UP = "given_up"  # it never came about, or lies broken, and no alarm is needed
