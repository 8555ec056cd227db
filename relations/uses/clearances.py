"""What a clearance sheet tells a venue, for how long, and what a newer one changes; plain values.

A venue is told what to do and no reason, so several reasons end in the same instruction.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

from relations.consent.answers import Code
from relations.consent.values import INK, Plan

# A sheet whose answers name no day at all is looked at again after half a year; a choice of ours.
LONGEST = timedelta(days=180)


class State(StrEnum):
    """How a sheet stands on a day; only an open one shows its pictures."""

    OPEN = "open"
    OUT_OF_DATE = "out_of_date"
    REPLACED = "replaced"
    OVER = "over"
    ENDED = "ended"


class Instruction(StrEnum):
    """What a venue does with a cleared picture, beside keeping to its words."""

    WAIT = "wait"  # not before the artist's word stands on the sheet
    UNTIL = "until"  # taken down on a day, unless a newer sheet says otherwise
    WRITTEN = "written"  # as the artist wrote it down


class Change(StrEnum):
    """What a newer sheet says otherwise of one picture."""

    GONE = "gone"
    NEW = "new"
    CAPTION = "caption"
    INSTRUCTION = "instruction"


# What each condition of the weighing comes to at the venue; None is for us to settle, not for them.
TOLD: Mapping[str, Instruction | None] = {
    Code.LAST_WORD: Instruction.WAIT,
    Code.CHECK_IN: Instruction.WAIT,
    Code.NEWER_FORM: Instruction.WAIT,
    Code.TELL_FIRST: Instruction.WAIT,
    Code.MADE_UNDER_18: Instruction.WAIT,
    Code.TAKE_DOWN_BY: Instruction.UNTIL,
    Code.ASK_AT_18: Instruction.UNTIL,
    Code.AS_WRITTEN: Instruction.WRITTEN,
    Code.NAMED_LESS: None,
    Code.SPEAKER: None,
}
# The artist has told the family, or has looked again, and says so; all else only a new weighing
# settles: a talk is written up and a form is finished before a word is given.
BY_WORD = frozenset({Code.TELL_FIRST, Code.MADE_UNDER_18})


def instructions(conditions: Iterable[str]) -> tuple[Instruction, ...]:
    """Give what a venue is told of a picture with these conditions, each once, in a fixed order.

    `conditions` are codes of the weighing; one that is not known here is waited with.
    """
    found = {TOLD.get(code, Instruction.WAIT) for code in conditions}
    return tuple(one for one in Instruction if one in found)


def may_give_word(conditions: Iterable[str]) -> bool:
    """Say whether the artist's word alone ends the waiting for a picture."""
    waits = {code for code in conditions if TOLD.get(code, Instruction.WAIT) is Instruction.WAIT}
    return bool(waits) and waits <= BY_WORD


def valid_until(days: Iterable[date | None], plan: Plan, on: date) -> date:
    """Give the last day of a sheet made on a day: the earliest on which an answer is looked at.

    `days` are the look-again days of its pictures, None where there is none. Without any, the
    use's own end or, of one that is judged on its day, that day; else half a year from `on`.
    Source: job.md row 37.
    """
    own = plan.starts_on if plan.is_one_day or plan.use in INK else plan.ends_on
    fallback = own if own is not None and own >= on else on + LONGEST
    return min((day for day in days if day is not None), default=fallback)


@dataclass(frozen=True)
class Line:
    """One picture of a sheet as the venue reads it: caption to the letter and what to do."""

    picture: str
    caption: str
    does: tuple[Instruction, ...] = ()
    until: date | None = None
    written: str = ""
    word_on: date | None = None
    may_give_word: bool = False
    down_at: datetime | None = None

    @property
    def waits(self) -> bool:
        """Whether it may not be shown yet."""
        return Instruction.WAIT in self.does and self.word_on is None

    @property
    def told(self) -> tuple[object, ...]:
        """All of the instruction, for comparing."""
        return self.waits, Instruction.UNTIL in self.does and self.until, self.written


def changes(old: Iterable[Line], new: Iterable[Line]) -> tuple[tuple[str, tuple[Change, ...]], ...]:
    """Give, by the picture's code, what a newer sheet says otherwise; what is alike is left out."""
    before, after = ({line.picture: line for line in lines} for lines in (old, new))
    found = {code: tuple(_differs(before.get(code), after.get(code))) for code in before | after}
    return tuple((code, found[code]) for code in sorted(found) if found[code])


def _differs(old: Line | None, new: Line | None) -> Iterable[Change]:
    if old is None or new is None:
        yield Change.NEW if old is None else Change.GONE
        return
    if old.caption != new.caption:
        yield Change.CAPTION
    if old.told != new.told:
        yield Change.INSTRUCTION
