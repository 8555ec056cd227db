"""Whether the project may close: when every print and every promise has its ending.

Nothing ends or closes by itself: what nobody could be given goes to an archive, to whoever speaks
for them, or is destroyed, and somebody with a name decides it (job.md 2 and A 57).
"""

from collections import Counter
from collections.abc import Collection, Iterable
from enum import StrEnum

from relations.people.values import Standing
from relations.prints.promises import Otherwise
from relations.prints.rules import ENDINGS, MOVES, PrintState

from .values import PersonEnding


class Ending(StrEnum):
    """How a print or a promise ended."""

    ACKNOWLEDGED = "acknowledged"
    NOT_WANTED = "not_wanted"
    ARCHIVE = "archive"
    GIVEN_TO_SPEAKER = "given_to_speaker"
    DESTROYED = "destroyed"
    APOLOGY = "apology"
    LOST = "lost"
    KEPT = "kept"
    LET_OFF = "let_off"
    COULD_NOT = "could_not"


class Lack(StrEnum):
    """What is still missing before there is an ending."""

    NOT_OWED_YET = "not_owed_yet"  # somebody sat, and no print of it was owed so far
    ON_ITS_WAY = "on_its_way"  # its next step comes first
    NO_WORD = "no_word"  # it left us, and nobody said that it is there
    DECIDE = "decide"  # kept for them
    APOLOGISE = "apologise"  # nothing to print
    LOST_FOR_GOOD = "lost_for_good"  # lost: made again, or ended
    OPEN = "open"  # a promise that was neither kept nor ended


S = PrintState
ENDED: dict[PrintState, Ending] = {
    S.ACKNOWLEDGED: Ending.ACKNOWLEDGED,
    S.DECLINED: Ending.NOT_WANTED,
}
LACKS: dict[PrintState, Lack] = {
    S.IN_HAND: Lack.NO_WORD,
    S.HANDED_ON: Lack.NO_WORD,
    S.POSTED: Lack.NO_WORD,
    S.KEPT_FOR_THEM: Lack.DECIDE,
    S.NOTHING_TO_PRINT: Lack.APOLOGISE,
    S.LOST: Lack.LOST_FOR_GOOD,
}
# Where somebody may decide how a print ends; from anywhere else its way goes on first.
MAY_BE_CLOSED_OUT = frozenset(old for old, news in MOVES.items() if S.CLOSED_OUT in news)


def of_print(state: PrintState, closed_how: str) -> Ending | Lack:
    """Say how a print ended, or what it still lacks. Closed out in an unknown way: ValueError."""
    if state is S.CLOSED_OUT:
        return Ending(closed_how)
    return ENDED.get(state) or LACKS.get(state, Lack.ON_ITS_WAY)


def of_promise(is_kept: bool, ended_how: str) -> Ending | Lack:
    """Say how a promise ended, or that it is open."""
    if is_kept:
        return Ending.KEPT
    return Ending(Otherwise(ended_how)) if ended_how else Lack.OPEN


E, P = PersonEnding, Standing
WITH_US = frozenset({E.AS_AGREED, E.ARCHIVE, E.GIVEN_BACK, E.DESTROYED})
# Which endings there are for a person, by where they stand. Of those who never sat nothing is kept
# in the end; of those who took everything back or are not to be rung nothing goes to an archive.
MAY_END: dict[Standing, frozenset[PersonEnding]] = {
    P.TAKING_PART: WITH_US,
    P.GONE_QUIET: WITH_US | {E.COULD_NOT_ASK},
    P.SPOKEN_FOR: WITH_US | {E.COULD_NOT_ASK},
    P.STEPPED_BACK: frozenset({E.AS_AGREED, E.GIVEN_BACK, E.DESTROYED}),
    P.NEVER_RING: frozenset({E.AS_AGREED, E.DESTROYED}),
}
# Of these nothing is shown anew, from the day on which it was said.
SHOWN_NO_MORE = frozenset({E.GIVEN_BACK, E.DESTROYED})
NEVER_SAT = frozenset({E.DESTROYED})
# Of these nothing is left to be decided.
OVER = frozenset({P.LET_GO, P.CLOSED})


def may_end(standing: Standing, *, has_sat: bool) -> frozenset[PersonEnding]:
    """Give how it may end for a person who stands there; nothing where it is over."""
    if standing in OVER:
        return frozenset()
    return MAY_END.get(standing, NEVER_SAT) if has_sat else NEVER_SAT


def needs_an_ending(standing: Standing, *, has_sat: bool, has_ending: bool) -> bool:
    """Whether somebody must still decide how it ends for a person.

    Not for whoever never sat and asked never to be rung: of them only the closed number is left.
    """
    only_a_mark = standing is Standing.NEVER_RING and not has_sat
    return not (has_ending or standing in OVER or only_a_mark)


def against_ending_for(
    standing: Standing,
    how: PersonEnding,
    *,
    has_sat: bool,
    is_closing: bool,
    is_owed: bool,
    is_agreed_to_archive: bool,
) -> tuple[str, ...]:
    """Give the codes of what stands against how it is to end for a person; () is yes.

    "not_begun": nobody has said that the project is to close; "not_this_ending": not for one who
    stands there; "still_owed": a print or a promise of theirs has no ending yet;
    "their_archive_not_agreed": no picture of theirs may go to an archive, and unknown is no.
    """
    guards = (
        ("not_begun", not is_closing),
        ("not_this_ending", how not in may_end(standing, has_sat=has_sat)),
        ("still_owed", is_owed),
        ("their_archive_not_agreed", how is E.ARCHIVE and not is_agreed_to_archive),
    )
    return tuple(code for code, stands in guards if stands)


def sums(found: Iterable[Ending | Lack]) -> dict[Ending, int]:
    """Count the endings, in their own order; those that nothing came to are left out."""
    counts = Counter(one for one in found if isinstance(one, Ending))
    return {ending: counts[ending] for ending in Ending if counts[ending]}


def against_closing(
    lacks: Collection[Lack], *, has_begun: bool, without_ending: int = 0
) -> tuple[str, ...]:
    """Give the codes of what stands against closing the project; () is yes.

    "not_begun": nobody has said that it is to close; "still_lacking": something has no ending;
    "people_without_ending": so many people have none.
    """
    guards = (
        ("not_begun", not has_begun),
        ("still_lacking", bool(lacks)),
        ("people_without_ending", without_ending > 0),
    )
    return tuple(code for code, stands in guards if stands)


def against_ending(
    state: PrintState, ending: str, *, has_speaker: bool, is_agreed_to_archive: bool
) -> tuple[str, ...]:
    """Give the codes of what stands against how somebody wants a print to end; () is yes.

    Only a print that is kept for them goes anywhere. "ending": to none of the three ends;
    "no_speaker": nobody speaks for them; "archive_not_agreed": not all in the picture said yes to
    an archive, and unknown is no. Whether the step may be taken is for `prints.rules`.
    """
    if state is not S.KEPT_FOR_THEM:
        return ("ending",) if ending else ()
    guards = (
        ("ending", ending not in ENDINGS),
        ("no_speaker", ending == Ending.GIVEN_TO_SPEAKER and not has_speaker),
        ("archive_not_agreed", ending == Ending.ARCHIVE and not is_agreed_to_archive),
    )
    return tuple(code for code, stands in guards if stands)
