"""What the rules about people take and give: plain values, no table and no sentence."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Risk(StrEnum):
    """How much being shown may harm a person, from the least."""

    ORDINARY = "ordinary"
    RAISED = "raised"
    GRAVE = "grave"


class Condition(StrEnum):
    """Whether a person can answer for themselves; which hindrance it is, is not stored."""

    WELL = "well"
    CANNOT_ANSWER = "cannot_answer"
    DIED = "died"


class Precision(StrEnum):
    """How much is known of the day on which word came through."""

    DAY = "day"
    MONTH = "month"
    YEAR = "year"


class LinkOver(StrEnum):
    """Why it need not be known any more who told us of somebody."""

    SAT_LONG_AGO = "sat_long_ago"
    CLOSED = "closed"


@dataclass(frozen=True, slots=True)
class Birth:
    """The days between which somebody was born, both included; the same where it is known."""

    earliest: date
    latest: date

    def __post_init__(self) -> None:
        if self.latest < self.earliest:
            raise ValueError("a birth cannot end before it begins")

    @classmethod
    def on(cls, day: date) -> "Birth":
        """Born on a known day."""
        return cls(day, day)

    @classmethod
    def in_year(cls, year: int) -> "Birth":
        """Born on some day of a year: from 1 January to 31 December."""
        return cls(date(year, 1, 1), date(year, 12, 31))


class Ripeness(StrEnum):
    """What is known of somebody's being of age on a day."""

    CHILD = "child"
    ADULT = "adult"
    UNSURE = "unsure"
    UNKNOWN = "unknown"


class Standing(StrEnum):
    """Where a person stands with the project."""

    NAMED = "named"
    VOUCHED_FOR = "vouched_for"
    BEING_RUNG = "being_rung"
    THINKING_IT_OVER = "thinking_it_over"
    MEETING_AGREED = "meeting_agreed"
    MET = "met"
    SITTING_AGREED = "sitting_agreed"
    TAKING_PART = "taking_part"
    GONE_QUIET = "gone_quiet"
    SPOKEN_FOR = "spoken_for"
    STEPPED_BACK = "stepped_back"
    PAUSE = "pause"
    SAID_NO = "said_no"
    NEVER_RING = "never_ring"
    LET_GO = "let_go"
    CLOSED = "closed"


class Refusal(StrEnum):
    """Why a person cannot be vouched for or moved to a standing."""

    NO_SUCH_MOVE = "no_such_move"
    INTRODUCER_HAS_NOT_SAT = "introducer_has_not_sat"
    INTRODUCER_STEPPED_BACK = "introducer_stepped_back"
    INTRODUCER_MAY_NOT_VOUCH = "introducer_may_not_vouch"
    NOT_ASKED_FIRST = "not_asked_first"
    ARTIST_HAS_NOT_SAID_YES = "artist_has_not_said_yes"
    NO_NEW_INTRODUCER = "no_new_introducer"
    DID_NOT_COME_TO_US = "did_not_come_to_us"
    LANGUAGE_NOT_SETTLED = "language_not_settled"
    HOURS_NOT_SETTLED = "hours_not_settled"
    TOO_FEW_TRIES = "too_few_tries"
    TOO_FEW_WAYS = "too_few_ways"
    NAME_IS_FRESH = "name_is_fresh"
    NO_IS_FRESH = "no_is_fresh"
    FIRST_TRY_IS_FRESH = "first_try_is_fresh"
    QUIET_TOO_BRIEFLY = "quiet_too_briefly"
    STILL_THINKING = "still_thinking"
    REST_NOT_OVER = "rest_not_over"
    SOMEBODY_WITH_POWER = "somebody_with_power"
    NOT_TOLD_BACK = "not_told_back"
    NO_SHEET_EXPOSED = "no_sheet_exposed"
    CAN_ANSWER = "can_answer"
    CANNOT_ANSWER = "cannot_answer"
    NOT_ALL_TAKEN_BACK = "not_all_taken_back"
    NOT_BY_SPEAKER = "not_by_speaker"
    NO_NEW_FORM = "no_new_form"
    NO_ENDING = "no_ending"
    NOT_SEALED = "not_sealed"


@dataclass(frozen=True, slots=True)
class Vouching:
    """What is known of the one who gave a name, and of what was asked; unset is no."""

    has_sat: bool = False
    is_accepted_outside: bool = False
    has_stepped_back: bool = False
    may_vouch: bool = False
    asked_first: bool | None = None
    # Unset counts as raised, as everywhere.
    community_is_raised: bool | None = None


@dataclass(frozen=True, slots=True)
class Clocks:
    """After how many days or tries a person may be moved on; settings, with these defaults."""

    named: int = 60
    said_no: int = 30
    never_reached: int = 365
    quiet: int = 90
    thinking: int = 14
    tries: int = 3
    ways: int = 3
    told_back: int = 4
    links: int = 36  # months after the last sitting; source: job.md F4


@dataclass(frozen=True, slots=True)
class Facts:
    """What bears on a move; whatever is not known stays unset, and unset opens nothing."""

    on: date
    since: date  # the day on which the present standing began
    vouching: Vouching = Vouching()
    artist_says_yes: bool = False
    is_new_introducer: bool = False
    came_to_us: bool = False
    language_is_settled: bool = False  # known, or "unknown" was chosen
    hours_are_settled: bool = False
    tries: int = 0
    ways_tried: int = 0
    first_try_on: date | None = None
    ring_again_on: date | None = None  # their own date, or the end of a rest
    power_was_absent: bool = False
    told_back: int = 0
    sheets_exposed: int = 0
    condition: Condition = Condition.WELL
    took_all_back: bool = False
    by_speaker: bool = False
    has_new_form: bool = False
    has_ending: bool = False
    is_sealed: bool = False  # the proof, or the file of one who could not be asked
