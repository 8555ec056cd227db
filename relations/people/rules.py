"""The rules about people: age, risk, who may vouch, and which standing may follow which."""

from calendar import monthrange
from collections.abc import Callable, Mapping
from datetime import date, timedelta

from .values import (
    Birth,
    Clocks,
    Condition,
    Facts,
    LinkOver,
    Precision,
    Refusal,
    Ripeness,
    Risk,
    Standing,
    Vouching,
)

OF_AGE = 18  # years; where the local age is higher, the screens say so

SHOWS_A_DAY = 30  # numbers shown to one user on one calendar day; source: job.md 4

_RISING = tuple(Risk)


# How long a risk talk holds before it is held again, in days; source: job.md F12, the plain days.
TALK_HOLDS = {Risk.ORDINARY: 730, Risk.RAISED: 180, Risk.GRAVE: 30}


def look_again_on(risk: Risk, on: date) -> date:
    """The last day on which the level of a risk talk held on a day is looked at again."""
    return on + timedelta(days=TALK_HOLDS[risk])


def counted(risk: Risk | None) -> Risk:
    """The level that counts: unset counts as raised."""
    return Risk.RAISED if risk is None else risk


def higher(theirs: Risk | None, ours: Risk | None) -> Risk:
    """The higher of the sitter's own view and ours, where an unset one counts as raised."""
    return max(counted(theirs), counted(ours), key=_RISING.index)


def too_many(shown: int, limit: int = SHOWS_A_DAY) -> bool:
    """Whether so many numbers, shown to one user on one day, are told to artist and keeper.

    More than the limit is; the limit itself is not. Nothing is refused: a number may be needed
    for a warning. Source: job.md 4 ("day limit 30 shows, more = artist and keeper told").
    """
    return shown > limit


def age_on(born: date, day: date) -> int:
    """Whole years on that day; somebody born on 29 February is a year older on 1 March.

    The later and safer day: some calendar libraries say 28 February (see tests/outside).
    """
    return day.year - born.year - ((day.month, day.day) < (born.month, born.day))


def birthday(born: date, age: int) -> date:
    """The day on which somebody turns that age; 1 March for 29 February in other years."""
    try:
        return born.replace(year=born.year + age)
    except ValueError:
        return date(born.year + age, 3, 1)


def ripeness(birth: Birth | None, day: date, *, met_as_adult: bool = False) -> Ripeness:
    """Whether somebody is of age on that day: surely not, surely, perhaps, or nothing is known.

    A known birth, be it only a year, wins over having been met as an adult; who was met as an
    adult and has no known birth is of age on every day of the project.
    """
    if birth is None:
        return Ripeness.ADULT if met_as_adult else Ripeness.UNKNOWN
    if age_on(birth.latest, day) >= OF_AGE:
        return Ripeness.ADULT
    if age_on(birth.earliest, day) < OF_AGE:
        return Ripeness.CHILD
    return Ripeness.UNSURE


def is_child(birth: Birth | None, day: date, *, met_as_adult: bool = False) -> bool:
    """Whether somebody is surely under 18 on that day."""
    return ripeness(birth, day, met_as_adult=met_as_adult) is Ripeness.CHILD


def starts(on: date, precision: Precision) -> date:
    """The first day of the day, month or year of which no more is known."""
    if precision is Precision.DAY:
        return on
    return on.replace(day=1) if precision is Precision.MONTH else date(on.year, 1, 1)


def ends(on: date, precision: Precision) -> date:
    """The last day of the day, month or year of which no more is known."""
    if precision is Precision.DAY:
        return on
    if precision is Precision.YEAR:
        return date(on.year, 12, 31)
    return on.replace(day=monthrange(on.year, on.month)[1])


def months_after(day: date, months: int) -> date:
    """The same day of a later month, or its last day where that is shorter."""
    years, month = divmod(day.month - 1 + months, 12)
    year, month = day.year + years, month + 1
    return date(year, month, min(day.day, monthrange(year, month)[1]))


def link_over(
    *,
    sat_on: date | None,
    standing: Standing,
    is_rung_through: bool,
    on: date,
    clocks: Clocks | None = None,
) -> LinkOver | None:
    """Why it need not be known any more who told us of somebody; None where it still may be.

    `sat_on` is the day of their last sitting. Erasing is proposed 36 months after it, or once
    their file is closed; never while they are rung through whoever told us. Nothing goes by
    itself. Source: job.md F4.
    """
    if is_rung_through:
        return None
    if standing in ENDS:
        return LinkOver.CLOSED
    months = (clocks or Clocks()).links
    if sat_on is not None and on >= months_after(sat_on, months):
        return LinkOver.SAT_LONG_AGO
    return None


def vouch(vouching: Vouching) -> tuple[Refusal, ...]:
    """Why the name may not be taken up; nothing where the introducer may vouch for it.

    Vouches who has sat, or is an outside introducer whom the artist accepted, has not stepped
    back and is ticked "may vouch". Where the community's risk is raised the person must have
    been asked first; elsewhere only a plain "not asked" refuses.
    """
    found = []
    if not (vouching.has_sat or vouching.is_accepted_outside):
        found.append(Refusal.INTRODUCER_HAS_NOT_SAT)
    if vouching.has_stepped_back:
        found.append(Refusal.INTRODUCER_STEPPED_BACK)
    if not vouching.may_vouch:
        found.append(Refusal.INTRODUCER_MAY_NOT_VOUCH)
    may_be_unset = vouching.community_is_raised is False
    if vouching.asked_first is False or (vouching.asked_first is None and not may_be_unset):
        found.append(Refusal.NOT_ASKED_FIRST)
    return tuple(found)


def _over(begin: date | None, days: int, on: date) -> bool:
    return begin is not None and on >= begin + timedelta(days=days)


def _thought_over(facts: Facts, clocks: Clocks) -> bool:
    if facts.ring_again_on is None:
        return _over(facts.since, clocks.thinking, facts.on)
    return facts.on >= facts.ring_again_on


R, S = Refusal, Standing

# What must hold for a refusal not to be given; those of `vouch` are its own.
HOLDS: Mapping[Refusal, Callable[[Facts, Clocks], bool]] = {
    R.ARTIST_HAS_NOT_SAID_YES: lambda f, c: f.artist_says_yes,
    R.NO_NEW_INTRODUCER: lambda f, c: f.is_new_introducer,
    R.DID_NOT_COME_TO_US: lambda f, c: f.came_to_us,
    R.LANGUAGE_NOT_SETTLED: lambda f, c: f.language_is_settled,
    R.HOURS_NOT_SETTLED: lambda f, c: f.hours_are_settled,
    R.TOO_FEW_TRIES: lambda f, c: f.tries >= c.tries,
    R.TOO_FEW_WAYS: lambda f, c: f.ways_tried >= c.ways,
    R.NAME_IS_FRESH: lambda f, c: _over(f.since, c.named, f.on),
    R.NO_IS_FRESH: lambda f, c: _over(f.since, c.said_no, f.on),
    R.FIRST_TRY_IS_FRESH: lambda f, c: _over(f.first_try_on, c.never_reached, f.on),
    R.QUIET_TOO_BRIEFLY: lambda f, c: _over(f.first_try_on, c.quiet, f.on),
    R.STILL_THINKING: _thought_over,
    R.REST_NOT_OVER: lambda f, c: _over(f.ring_again_on, 0, f.on),
    R.SOMEBODY_WITH_POWER: lambda f, c: f.power_was_absent,
    R.NOT_TOLD_BACK: lambda f, c: f.told_back >= c.told_back,
    R.NO_SHEET_EXPOSED: lambda f, c: f.sheets_exposed > 0,
    R.CAN_ANSWER: lambda f, c: f.condition is not Condition.WELL,
    R.CANNOT_ANSWER: lambda f, c: f.condition is Condition.WELL,
    R.NOT_ALL_TAKEN_BACK: lambda f, c: f.took_all_back,
    R.NOT_BY_SPEAKER: lambda f, c: f.by_speaker,
    R.NO_NEW_FORM: lambda f, c: f.has_new_form,
    R.NO_ENDING: lambda f, c: f.has_ending,
    R.NOT_SEALED: lambda f, c: f.is_sealed,
}

Moves = Mapping[Standing, tuple[Refusal, ...]]
_INTRODUCER = (R.INTRODUCER_HAS_NOT_SAT, R.INTRODUCER_STEPPED_BACK, R.INTRODUCER_MAY_NOT_VOUCH)
_VOUCHED = (*_INTRODUCER, R.NOT_ASKED_FIRST, R.ARTIST_HAS_NOT_SAID_YES)
_READY = (R.LANGUAGE_NOT_SETTLED, R.HOURS_NOT_SETTLED)
_AWAY: Moves = {S.PAUSE: (), S.SAID_NO: (), S.NEVER_RING: ()}
_ENDS: Moves = {S.NEVER_RING: (), S.CLOSED: (R.NO_ENDING,)}

# From each standing to each that may follow it, with the refusals that guard the way.
MOVES: Mapping[Standing, Moves] = {
    S.NAMED: {S.VOUCHED_FOR: _VOUCHED, **_AWAY, S.LET_GO: (R.NAME_IS_FRESH,)},
    S.VOUCHED_FOR: {S.BEING_RUNG: _READY, **_AWAY, S.LET_GO: ()},
    S.BEING_RUNG: {
        S.THINKING_IT_OVER: (), S.MEETING_AGREED: (), **_AWAY, S.PAUSE: (R.TOO_FEW_TRIES,),
    },
    S.THINKING_IT_OVER: {S.BEING_RUNG: (R.STILL_THINKING,), S.MEETING_AGREED: (), **_AWAY},
    S.PAUSE: {
        S.BEING_RUNG: (R.REST_NOT_OVER,), S.VOUCHED_FOR: (R.NO_NEW_INTRODUCER, *_VOUCHED),
        S.SAID_NO: (), S.NEVER_RING: (), S.LET_GO: (R.FIRST_TRY_IS_FRESH,),
    },
    S.MEETING_AGREED: {S.MET: (R.SOMEBODY_WITH_POWER,), S.THINKING_IT_OVER: (), **_AWAY},
    S.MET: {S.SITTING_AGREED: (R.NOT_TOLD_BACK,), S.THINKING_IT_OVER: (), **_AWAY},
    S.SITTING_AGREED: {S.TAKING_PART: (R.NO_SHEET_EXPOSED,), S.MET: (), **_AWAY},
    S.TAKING_PART: {
        S.GONE_QUIET: (R.TOO_FEW_WAYS, R.QUIET_TOO_BRIEFLY), S.SPOKEN_FOR: (R.CAN_ANSWER,),
        S.STEPPED_BACK: (R.NOT_ALL_TAKEN_BACK,), **_ENDS,
    },
    S.GONE_QUIET: {
        S.TAKING_PART: (), S.SPOKEN_FOR: (R.CAN_ANSWER,), S.STEPPED_BACK: (R.NOT_ALL_TAKEN_BACK,),
        S.NEVER_RING: (), S.CLOSED: (R.NO_ENDING, R.NOT_SEALED),
    },
    S.SPOKEN_FOR: {S.TAKING_PART: (R.CANNOT_ANSWER,), S.STEPPED_BACK: (R.NOT_BY_SPEAKER,), **_ENDS},
    S.STEPPED_BACK: {
        S.TAKING_PART: (R.DID_NOT_COME_TO_US, R.NO_NEW_FORM), **_ENDS, S.LET_GO: (R.NOT_SEALED,),
    },
    S.SAID_NO: {
        S.LET_GO: (R.NO_IS_FRESH,), S.VOUCHED_FOR: (R.DID_NOT_COME_TO_US,), S.NEVER_RING: (),
    },
}  # fmt: skip
ENDS = frozenset(Standing) - frozenset(MOVES)


def may_move(
    before: Standing, after: Standing, facts: Facts, clocks: Clocks | None = None
) -> tuple[Refusal, ...]:
    """Why a person may not go from one standing to another; nothing where they may.

    A hold is a mark of its own, may lie on any standing and is not looked at here.
    """
    guards = MOVES.get(before, {}).get(after)
    if guards is None:
        return (Refusal.NO_SUCH_MOVE,)
    refused = set(vouch(facts.vouching))
    refused |= {code for code, holds in HOLDS.items() if not holds(facts, clocks or Clocks())}
    return tuple(code for code in guards if code in refused)
