"""Where a print is on its way to the sitter, and which step may come next.

A print is owed whatever the answer on uses; "kept for them" and "not safe" are full answers.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

WAIT_DAYS = 30
LATE_DAYS = 60
TRIES = 2
ENDINGS = frozenset({"archive", "given_to_speaker", "destroyed"})


class Answered(StrEnum):
    """What somebody answers who is asked how: print it as agreed, keep it, or they want none."""

    PRINT = "print"
    KEEP = "keep"
    NONE = "none"


class PrintState(StrEnum):
    """The 22 states of one person's print of one picture (job.md 2)."""

    OWED = "owed"
    ASKED_HOW = "asked_how"
    NOTHING_TO_PRINT = "nothing_to_print"
    FILE_READY = "file_ready"
    ORDERED = "ordered"
    AT_THE_LAB = "at_the_lab"
    COLLECTED = "collected"
    CHECKED = "checked"
    FAULTY = "faulty"
    OUT_ON_A_ROUND = "out_on_a_round"
    POSTED = "posted"
    NOT_HOME = "not_home"
    NOT_SAFE = "not_safe"
    LOOKING_FOR_A_WAY = "looking_for_a_way"
    HANDED_ON = "handed_on"
    KEPT_FOR_THEM = "kept_for_them"
    LOST = "lost"
    IN_HAND = "in_hand"
    RETURNED_BY_THEM = "returned_by_them"
    ACKNOWLEDGED = "acknowledged"
    DECLINED = "declined"
    CLOSED_OUT = "closed_out"


S = PrintState
ENDS = frozenset({S.ACKNOWLEDGED, S.DECLINED, S.CLOSED_OUT})
MOVES: dict[PrintState, tuple[PrintState, ...]] = {
    S.OWED: (S.ASKED_HOW, S.NOTHING_TO_PRINT),
    S.ASKED_HOW: (S.FILE_READY, S.KEPT_FOR_THEM, S.DECLINED),
    S.NOTHING_TO_PRINT: (S.OWED, S.CLOSED_OUT),
    S.FILE_READY: (S.ORDERED,),
    S.ORDERED: (S.AT_THE_LAB,),
    S.AT_THE_LAB: (S.COLLECTED, S.LOST),
    S.COLLECTED: (S.CHECKED, S.FAULTY),
    S.FAULTY: (S.ORDERED,),
    S.CHECKED: (S.OUT_ON_A_ROUND, S.KEPT_FOR_THEM, S.POSTED),
    S.OUT_ON_A_ROUND: (S.IN_HAND, S.NOT_HOME, S.NOT_SAFE, S.HANDED_ON, S.LOST),
    S.NOT_HOME: (S.OUT_ON_A_ROUND, S.LOOKING_FOR_A_WAY),
    S.LOOKING_FOR_A_WAY: (S.OUT_ON_A_ROUND, S.POSTED, S.HANDED_ON, S.KEPT_FOR_THEM),
    S.POSTED: (S.IN_HAND, S.LOST, S.LOOKING_FOR_A_WAY),
    S.NOT_SAFE: (S.KEPT_FOR_THEM,),
    S.HANDED_ON: (S.ACKNOWLEDGED, S.LOOKING_FOR_A_WAY),
    S.KEPT_FOR_THEM: (S.ASKED_HOW, S.OUT_ON_A_ROUND, S.CLOSED_OUT),
    S.LOST: (S.ORDERED, S.CLOSED_OUT),
    S.IN_HAND: (S.ACKNOWLEDGED, S.FAULTY, S.RETURNED_BY_THEM),
    S.RETURNED_BY_THEM: (S.DECLINED, S.KEPT_FOR_THEM),
    S.ACKNOWLEDGED: (),
    S.DECLINED: (),
    S.CLOSED_OUT: (),
}
# Where each answer leads from "asked how"; to have it printed leaves it there for the next step.
AFTER_ANSWER: dict[Answered, PrintState] = {
    Answered.KEEP: S.KEPT_FOR_THEM,
    Answered.NONE: S.DECLINED,
}
# Gone by post or through somebody: until the sitter's own word it is not known to be there.
SILENT = frozenset({S.POSTED, S.HANDED_ON})
# With these it is asked what happened to the print; never with what is the sitter's own answer.
ASKS_WHY = frozenset({S.NOTHING_TO_PRINT, S.FAULTY, S.LOST})


@dataclass(frozen=True)
class Facts:
    """What is known about a print when a step is wanted; what is not known is no.

    `rounds`: how often it went out and nobody was home; `days_waiting`: days in the state it
    is in now; `is_left_alone`: they said no to any contact, or a hold lies on them; `ending` one
    of ENDINGS and `is_decided` (by someone named), only at closing.
    """

    way_agreed: bool = False
    tracked: bool = False
    plain_cover: bool = False
    post_asked_for: bool = False
    rounds: int = 0
    days_waiting: int = 0
    word_from_sitter: bool = False
    sat_again: bool = False
    apology_given: bool = False
    asked_this_trip: bool = False
    is_left_alone: bool = False
    is_closing: bool = False
    ending: str = ""
    is_decided: bool = False


NOTHING_KNOWN = Facts()


def may_move(old: PrintState, new: PrintState, facts: Facts = NOTHING_KNOWN) -> tuple[str, ...]:
    """Give the codes of what stands against a step; () is yes.

    "same": it is there already; "two_steps": it can get there, but through a step between;
    "no_such_move": it can never get there from here. Otherwise one code for each guard of job.md 2
    that does not hold: safe_way, two_tries, tracked, plain_cover, asked_for, thirty_days, word,
    sat_again, apology, asked_this_trip, closing, ending, decided_by; and left_alone, since a no
    acts on hearing: nobody goes or writes to whoever said it.
    """
    if new == old:
        return ("same",)
    if new not in MOVES[old]:
        return ("two_steps",) if new in reachable(old) else ("no_such_move",)
    return tuple(code for code, holds in _guards(old, new, facts) if not holds)


def closed_how(old: PrintState, ending: str) -> str:
    """Say how a print ended that is closed out: by the decision, or by what had become of it."""
    return {S.NOTHING_TO_PRINT: "apology", S.LOST: "lost"}.get(old, ending)


def reachable(state: PrintState) -> frozenset[PrintState]:
    """Give every state that can come after `state`, by any number of steps."""
    seen: set[PrintState] = set()
    waiting = [state]
    while waiting:
        fresh = set(MOVES[waiting.pop()]) - seen
        seen |= fresh
        waiting += fresh
    return frozenset(seen)


def _guards(old: PrintState, new: PrintState, facts: Facts) -> tuple[tuple[str, bool], ...]:
    """Give the guards of one move of the model, each with whether it holds."""
    waited = ("thirty_days", facts.days_waiting >= WAIT_DAYS)
    left_alone = ("left_alone", not facts.is_left_alone)
    by_move: dict[tuple[PrintState, PrintState], tuple[tuple[str, bool], ...]] = {
        (S.NOT_HOME, S.OUT_ON_A_ROUND): (("two_tries", facts.rounds < TRIES),),
        (S.POSTED, S.LOOKING_FOR_A_WAY): (waited,),
        (S.HANDED_ON, S.LOOKING_FOR_A_WAY): (waited,),
        (S.HANDED_ON, S.ACKNOWLEDGED): (("word", facts.word_from_sitter),),
        (S.NOTHING_TO_PRINT, S.OWED): (("sat_again", facts.sat_again),),
        (S.NOTHING_TO_PRINT, S.CLOSED_OUT): (("apology", facts.apology_given),),
        (S.KEPT_FOR_THEM, S.ASKED_HOW): (("asked_this_trip", not facts.asked_this_trip),),
        (S.KEPT_FOR_THEM, S.CLOSED_OUT): (("ending", facts.ending in ENDINGS),),
    }
    by_new: dict[PrintState, tuple[tuple[str, bool], ...]] = {
        S.OUT_ON_A_ROUND: (("safe_way", facts.way_agreed), left_alone),
        S.POSTED: (
            ("tracked", facts.tracked),
            ("plain_cover", facts.plain_cover),
            ("asked_for", facts.post_asked_for),
            left_alone,
        ),
        S.CLOSED_OUT: (("closing", facts.is_closing), ("decided_by", facts.is_decided)),
    }
    return by_move.get((old, new), ()) + by_new.get(new, ())


NOT_OWED = frozenset({S.DECLINED, S.NOTHING_TO_PRINT})
IN_THEIR_HANDS = frozenset({S.ACKNOWLEDGED, S.IN_HAND})
# Nobody waits for these: given, kept, or ended at closing.
NEVER_LATE = NOT_OWED | IN_THEIR_HANDS | {
    S.KEPT_FOR_THEM,
    S.NOT_SAFE,
    S.RETURNED_BY_THEM,
    S.CLOSED_OUT,
}  # fmt: skip


# There is a print, or soon will be, and it lies with us: its envelope needs a slip.
NEEDS_SLIPS = frozenset(
    {
        *(S.FILE_READY, S.ORDERED, S.AT_THE_LAB, S.COLLECTED, S.CHECKED, S.NOT_HOME, S.NOT_SAFE),
        *(S.LOOKING_FOR_A_WAY, S.KEPT_FOR_THEM, S.RETURNED_BY_THEM),
    }
)


# They were asked, or are to be asked again, and no sitter holds it: a way to them may be agreed.
MAY_BE_BROUGHT = frozenset(PrintState) - ENDS - {S.OWED, S.NOTHING_TO_PRINT, S.IN_HAND}


@dataclass(frozen=True)
class Counts:
    """Prints by F11: how many rows, owed, acknowledged, in the sitters' hands, late."""

    rows: int
    owed: int
    returned: int
    in_hands: int
    late: int

    @property
    def returned_percent(self) -> int:
        """Acknowledged of owed, rounded to whole percent; 0 when none is owed."""
        return round(100 * self.returned / self.owed) if self.owed else 0

    @property
    def in_hands_percent(self) -> int:
        """In their hands of owed, rounded to whole percent; 0 when none is owed."""
        return round(100 * self.in_hands / self.owed) if self.owed else 0


def is_late(state: PrintState, sat_on: date | None, on: date) -> bool:
    """Say whether somebody has waited more than 60 days since the sitting (F11)."""
    return sat_on is not None and (on - sat_on).days > LATE_DAYS and state not in NEVER_LATE


def is_looked_for(state: PrintState, since: date, on: date) -> bool:
    """Say whether no word came for 30 days of a print that was posted or handed on (job.md 31)."""
    return state in SILENT and (on - since).days >= WAIT_DAYS


def is_asked_again(state: PrintState, since: date, first_day: date) -> bool:
    """Say whether a kept print is to be asked about on the trip that begins on `first_day`.

    Whoever was asked on that trip and had it kept again has a newer day. Source: job.md row 30.
    """
    return state is S.KEPT_FOR_THEM and since < first_day


def answer_first(is_safe: bool | None, *, is_held_close: bool, state: PrintState) -> Answered:
    """Give the answer that the page of asking starts with; it is theirs to change.

    A print that is kept stays kept, one that is held close or not safe to have is kept.
    `is_held_close` is the mark "not at the lab", which those at grave risk have (job.md row 26),
    or that nobody goes to them.
    """
    is_kept = is_held_close or is_safe is False or state is S.KEPT_FOR_THEM
    return Answered.KEEP if is_kept else Answered.PRINT


def count(prints: Iterable[tuple[PrintState, date | None]], on: date) -> Counts:
    """Count prints given as (state, day of the sitting or None if not known) on a day.

    Source: job.md F11; owed are all rows but declined and nothing to print.
    """
    rows = list(prints)
    states = [state for state, _ in rows]
    return Counts(
        rows=len(rows),
        owed=sum(state not in NOT_OWED for state in states),
        returned=states.count(S.ACKNOWLEDGED),
        in_hands=sum(state in IN_THEIR_HANDS for state in states),
        late=sum(is_late(state, sat_on, on) for state, sat_on in rows),
    )
