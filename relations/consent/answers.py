"""What the weighing of consent gives: codes, reasons, one answer, and what to do next."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import NamedTuple

from relations.languages.sorting import fold

from .values import EVERYWHERE, Picture, Plan, Use, Windows


class Result(StrEnum):
    CLEARED = "cleared"
    CONDITIONS = "conditions"
    NOT_CLEARED = "not_cleared"


class Code(StrEnum):
    """Why a picture may not be shown, or only under a condition."""

    HOLD = "HOLD"
    STRANGER = "STRANGER"
    ERASED = "ERASED"
    NO_FORM = "NO-FORM"
    NOT_FILED = "NOT-FILED"
    INCOMPLETE = "INCOMPLETE"
    WORDING = "WORDING"
    WITHDRAWN = "WITHDRAWN"
    USE = "USE"
    NEWER_FORM = "NEWER-FORM"
    NOT_THIS_ONE = "NOT-THIS-ONE"
    PLACE = "PLACE"
    EVERYWHERE = "EVERYWHERE"
    TOO_EARLY = "TOO-EARLY"
    ENDED = "ENDED"
    RUNS_OVER = "RUNS-OVER"
    TAKE_DOWN_BY = "TAKE-DOWN-BY"
    NAME = "NAME"
    NAMED_LESS = "NAMED-LESS"
    NAME_LEAK = "NAME-LEAK"
    WHERE = "WHERE"
    FACE = "FACE"
    SHOW_FIRST = "SHOW-FIRST"
    CAPTION = "CAPTION"
    QUOTE = "QUOTE"
    READ_IT = "READ-IT"
    CANNOT_KEEP = "CANNOT-KEEP"
    AS_WRITTEN = "AS-WRITTEN"
    AGE = "AGE?"
    BIRTHDAY = "BIRTHDAY"
    GUARDIAN = "GUARDIAN"
    GUARDIAN_NO = "GUARDIAN-NO"
    CHILD_SAYS = "CHILD-SAYS"
    GROWN_UP = "GROWN-UP"
    ASK_AT_18 = "ASK-AT-18"
    MADE_UNDER_18 = "MADE-UNDER-18"
    AWAY = "AWAY"
    DIED = "DIED"
    TELL_FIRST = "TELL-FIRST"
    SPEAKER = "SPEAKER"
    CHECK_IN = "CHECK-IN"
    LAST_WORD = "LAST-WORD"


class Reason(NamedTuple):
    """A code and whom or what it is about: a person's code or a picture's id."""

    about: str
    code: Code


@dataclass(frozen=True, slots=True)
class Answer:
    """All reasons of all sitters, each once in the order found, and when to look again."""

    result: Result
    stops: tuple[Reason, ...]
    conditions: tuple[Reason, ...]
    look_again_on: date | None


def judged(
    stops: tuple[Reason, ...], conditions: tuple[Reason, ...], look_again_on: date | None
) -> Answer:
    """Any stop is "not cleared", else any condition is "conditions"."""
    lesser = Result.CONDITIONS if conditions else Result.CLEARED
    return Answer(Result.NOT_CLEARED if stops else lesser, stops, conditions, look_again_on)


class NextAction(StrEnum):
    """What a reason asks for, so that a page can put together what is done together."""

    TALK = "talk"  # at the next talk or by a safe ring, never by message
    SHOW_OR_READ = "show_or_read"
    FINISH_FORM = "finish_form"
    CHANGE_WORDS = "change_words"
    CHANGE_PLAN = "change_plan"  # leave the country out, the web off, or end earlier
    LOOK_AT_PICTURE = "look_at_picture"  # name and ask, crop, or take another frame
    ASK_WHO_MAY_ANSWER = "ask_who_may_answer"
    LOOK_INTO = "look_into"
    WAIT = "wait"
    KEEP_TO = "keep_to"  # goes on the sheet or into the calendar as it is
    NONE = "none"  # do not ask again


NEXT_ACTION: Mapping[Code, NextAction] = {
    Code.HOLD: NextAction.LOOK_INTO,
    Code.STRANGER: NextAction.LOOK_AT_PICTURE,
    # Nobody can be asked any more.
    Code.ERASED: NextAction.NONE,
    Code.NO_FORM: NextAction.TALK,
    Code.NOT_FILED: NextAction.FINISH_FORM,
    Code.INCOMPLETE: NextAction.FINISH_FORM,
    Code.WORDING: NextAction.FINISH_FORM,
    Code.WITHDRAWN: NextAction.NONE,
    Code.USE: NextAction.TALK,
    Code.NEWER_FORM: NextAction.FINISH_FORM,
    Code.NOT_THIS_ONE: NextAction.LOOK_AT_PICTURE,
    Code.PLACE: NextAction.CHANGE_PLAN,
    Code.EVERYWHERE: NextAction.CHANGE_PLAN,
    Code.TOO_EARLY: NextAction.WAIT,
    Code.ENDED: NextAction.TALK,
    Code.RUNS_OVER: NextAction.CHANGE_PLAN,
    Code.TAKE_DOWN_BY: NextAction.KEEP_TO,
    Code.NAME: NextAction.CHANGE_WORDS,
    Code.NAMED_LESS: NextAction.CHANGE_WORDS,
    Code.NAME_LEAK: NextAction.CHANGE_WORDS,
    Code.WHERE: NextAction.CHANGE_WORDS,
    Code.FACE: NextAction.LOOK_AT_PICTURE,
    Code.SHOW_FIRST: NextAction.SHOW_OR_READ,
    Code.CAPTION: NextAction.SHOW_OR_READ,
    Code.QUOTE: NextAction.SHOW_OR_READ,
    Code.READ_IT: NextAction.TALK,
    Code.CANNOT_KEEP: NextAction.TALK,
    Code.AS_WRITTEN: NextAction.KEEP_TO,
    Code.AGE: NextAction.TALK,
    Code.BIRTHDAY: NextAction.TALK,
    Code.GUARDIAN: NextAction.ASK_WHO_MAY_ANSWER,
    Code.GUARDIAN_NO: NextAction.NONE,
    # A child's own answer may be a no as well as missing: the code alone must not send anybody.
    Code.CHILD_SAYS: NextAction.NONE,
    Code.GROWN_UP: NextAction.TALK,
    Code.ASK_AT_18: NextAction.KEEP_TO,
    Code.MADE_UNDER_18: NextAction.LOOK_AT_PICTURE,
    Code.AWAY: NextAction.ASK_WHO_MAY_ANSWER,
    Code.DIED: NextAction.ASK_WHO_MAY_ANSWER,
    Code.TELL_FIRST: NextAction.TALK,
    Code.SPEAKER: NextAction.KEEP_TO,
    Code.CHECK_IN: NextAction.TALK,
    Code.LAST_WORD: NextAction.TALK,
}


class Scales:
    """What one weighing is about and has found so far; `about` is whom it looks at."""

    __slots__ = (
        "about",
        "conditions",
        "is_everywhere",
        "is_ink",
        "is_span",
        "look",
        "picture",
        "plan",
        "stops",
        "texts",
        "today",
        "windows",
    )

    def __init__(self, picture: Picture, plan: Plan, today: date, windows: Windows) -> None:
        self.picture, self.plan, self.today, self.windows = picture, plan, today, windows
        self.is_ink, self.is_span = plan.is_ink, plan.is_span
        self.is_everywhere = plan.use in EVERYWHERE and not (
            plan.use is Use.PRESS and plan.is_paper_only
        )
        self.about = picture.id
        # Keys in the order found, each once.
        self.stops: dict[Reason, None] = {}
        self.conditions: dict[Reason, None] = {}
        self.look = plan.ends_on if self.is_span else None
        self.texts: tuple[str, ...] | None = None

    def stop(self, code: Code) -> None:
        """Note a reason why the picture may not be shown."""
        self.stops[Reason(self.about, code)] = None

    def condition(self, code: Code) -> None:
        """Note what must be kept to when it is shown."""
        self.conditions[Reason(self.about, code)] = None

    def look_again(self, day: date) -> None:
        """Note a day on which the answer may change; the earliest is kept."""
        if self.look is None or day < self.look:
            self.look = day

    def folded_texts(self) -> tuple[str, ...]:
        """All that is printed or sent with the picture, folded once for all sitters."""
        if self.texts is None:
            picture = self.picture
            words = picture.words if self.plan.shows_captions else ""
            self.texts = (fold(picture.alt_text), fold(picture.file_name), fold(words))
        return self.texts

    def answer(self) -> Answer:
        """The answer to what was found."""
        return judged(tuple(self.stops), tuple(self.conditions), self.look)
