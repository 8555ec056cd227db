"""The way of one paper form: which state may follow which, and what must hold for it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class State(StrEnum):
    """Where a form under its serial is; the register keeps the same codes."""

    PRINTED = "printed"
    CARRIED = "carried"
    SPOILT = "spoilt"
    FILLED_IN = "filled_in"
    BROUGHT_BACK_BLANK = "brought_back_blank"
    MISSING = "missing"
    BROUGHT_HOME = "brought_home"
    LEFT_WITH_THEM = "left_with_them"
    SCANNED = "scanned"
    READ_ONCE = "read_once"
    DOUBTFUL = "doubtful"
    STANDING = "standing"
    REPLACED = "replaced"
    WITHDRAWN_IN_PART = "withdrawn_in_part"
    WITHDRAWN = "withdrawn"
    ENDED = "ended"
    KEPT_AS_PROOF = "kept_as_proof"
    DESTROYED = "destroyed"
    WRITTEN_OFF = "written_off"


class Refusal(StrEnum):
    """Why a form cannot be moved."""

    NO_SUCH_MOVE = "no_such_move"
    NOT_SIGNED_OUT = "not_signed_out"
    NO_SCAN = "no_scan"
    NOT_READ = "not_read"
    NOT_SETTLED = "not_settled"
    INCOMPLETE = "incomplete"
    WORDING_UNREAD = "wording_unread"
    GUARDIANS_OPEN = "guardians_open"
    NO_NEWER_ONE = "no_newer_one"
    NOTHING_TAKEN_BACK = "nothing_taken_back"
    NOT_OVER_YET = "not_over_yet"
    STILL_TO_BE_KEPT = "still_to_be_kept"
    ALARM_IS_OPEN = "alarm_is_open"


S, R = State, Refusal

# Source: the project's own model (19 states, 36 moves; no dead end, none out of reach).
FORM_MOVES: Mapping[State, frozenset[State]] = {
    S.PRINTED: frozenset({S.CARRIED, S.SPOILT}),
    S.CARRIED: frozenset({S.FILLED_IN, S.BROUGHT_BACK_BLANK, S.MISSING, S.SPOILT}),
    S.BROUGHT_BACK_BLANK: frozenset({S.CARRIED, S.SPOILT}),
    S.FILLED_IN: frozenset({S.BROUGHT_HOME, S.LEFT_WITH_THEM, S.MISSING}),
    S.LEFT_WITH_THEM: frozenset({S.BROUGHT_HOME, S.MISSING, S.SPOILT}),
    S.BROUGHT_HOME: frozenset({S.SCANNED}),
    S.SCANNED: frozenset({S.READ_ONCE, S.DOUBTFUL}),
    S.READ_ONCE: frozenset({S.STANDING, S.DOUBTFUL}),
    S.DOUBTFUL: frozenset({S.STANDING, S.SPOILT}),
    S.STANDING: frozenset({S.REPLACED, S.WITHDRAWN_IN_PART, S.WITHDRAWN, S.ENDED, S.DOUBTFUL}),
    S.WITHDRAWN_IN_PART: frozenset({S.REPLACED, S.WITHDRAWN, S.ENDED}),
    S.ENDED: frozenset({S.REPLACED, S.KEPT_AS_PROOF}),
    S.REPLACED: frozenset({S.KEPT_AS_PROOF}),
    S.WITHDRAWN: frozenset({S.KEPT_AS_PROOF}),
    S.KEPT_AS_PROOF: frozenset({S.DESTROYED}),
    S.MISSING: frozenset({S.BROUGHT_HOME, S.WRITTEN_OFF}),
    S.SPOILT: frozenset(),
    S.DESTROYED: frozenset(),
    S.WRITTEN_OFF: frozenset(),
}

# What a hand may say of a paper; every other state follows from a scan, a reading or a word.
BY_HAND = frozenset(
    {S.CARRIED, S.FILLED_IN, S.BROUGHT_BACK_BLANK, S.MISSING, S.BROUGHT_HOME, S.LEFT_WITH_THEM}
    | {S.SPOILT}
)
# A paper that is scanned has come home, whatever nobody noted on the way.
HOMEWARD: Mapping[State, State] = {
    S.PRINTED: S.CARRIED,
    S.CARRIED: S.FILLED_IN,
    S.FILLED_IN: S.BROUGHT_HOME,
    S.LEFT_WITH_THEM: S.BROUGHT_HOME,
    S.MISSING: S.BROUGHT_HOME,
}
# Nothing was answered on these, or nothing that is still in anybody's hand.
NOT_GIVEN = frozenset(
    {S.PRINTED, S.CARRIED, S.BROUGHT_BACK_BLANK, S.LEFT_WITH_THEM, S.SPOILT}
    | {S.DESTROYED, S.WRITTEN_OFF}
)


@dataclass(frozen=True, slots=True)
class Facts:
    """What bears on a move; whatever is not known stays unset, and unset opens nothing."""

    on: date | None = None
    is_signed_out: bool = False  # somebody answers for the blank
    has_scan: bool = False
    readings: int = 0
    is_settled: bool = False  # two readings are equal, or what differed was settled
    is_complete: bool = False  # for its way of giving
    wording_was_read: bool = False
    guardians_are_filled: bool = False  # or nobody need answer for the sitter
    newer_one_stands: bool = False
    took_something_back: bool = False
    took_all_back: bool = False
    last_day: date | None = None
    keep_until: date | None = None
    alarm_is_closed: bool = False


Holds = Callable[[Facts], bool]

_STANDS: Mapping[Refusal, Holds] = {
    R.NO_SCAN: lambda f: f.has_scan,
    R.NOT_SETTLED: lambda f: f.is_settled,
    R.INCOMPLETE: lambda f: f.is_complete,
    R.WORDING_UNREAD: lambda f: f.wording_was_read,
    R.GUARDIANS_OPEN: lambda f: f.guardians_are_filled,
}
# What must hold to come to a state, for each refusal that is given otherwise.
GUARDS: Mapping[State, Mapping[Refusal, Holds]] = {
    S.CARRIED: {R.NOT_SIGNED_OUT: lambda f: f.is_signed_out},
    S.SCANNED: {R.NO_SCAN: lambda f: f.has_scan},
    S.READ_ONCE: {R.NOT_READ: lambda f: f.readings >= 1},
    S.STANDING: _STANDS,
    S.REPLACED: {R.NO_NEWER_ONE: lambda f: f.newer_one_stands},
    S.WITHDRAWN_IN_PART: {R.NOTHING_TAKEN_BACK: lambda f: f.took_something_back},
    S.WITHDRAWN: {R.NOTHING_TAKEN_BACK: lambda f: f.took_all_back},
    S.ENDED: {
        R.NOT_OVER_YET: lambda f: f.on is not None and f.last_day is not None and f.on > f.last_day
    },
    S.DESTROYED: {
        R.STILL_TO_BE_KEPT: lambda f: (
            f.on is not None and f.keep_until is not None and f.on > f.keep_until
        )
    },
    S.WRITTEN_OFF: {R.ALARM_IS_OPEN: lambda f: f.alarm_is_closed},
}


def may_move(present: State, to: State, facts: Facts) -> tuple[Refusal, ...]:
    """Why a form may not go from `present` to `to`; nothing where it may.

    All reasons are given, not the first. Days are days of the project's own zone. Source: the
    project's own state model (common practice, no source).
    """
    if to not in FORM_MOVES[present]:
        return (R.NO_SUCH_MOVE,)
    return tuple(refusal for refusal, holds in GUARDS.get(to, {}).items() if not holds(facts))


def ways_on(present: State) -> tuple[State, ...]:
    """The states that a hand may bring a form to from here, in the order of its life."""
    return tuple(state for state in State if state in FORM_MOVES[present] & BY_HAND)


def homeward(present: State) -> tuple[State, ...]:
    """The states passed on the way to being scanned; empty where none is left to pass."""
    passed = []
    while present in HOMEWARD:
        present = HOMEWARD[present]
        passed.append(present)
    return tuple(passed)
