"""When to ring again, how long to let somebody rest, and how rings and meetings move on."""

from collections.abc import Collection, Iterable
from datetime import date, datetime, time, timedelta

from relations.people.rules import months_after

from .values import (
    EXPLAINED,
    NOTHING_SAID,
    PARTS,
    PLAIN_CLOCKS,
    TOLD_BACK,
    CallState,
    Clocks,
    Kind,
    MeetingFacts,
    MeetingState,
    Missing,
    NextRing,
    Outcome,
    Part,
    SafeTimes,
    Window,
)

WEEK = 7
WRITE_UP_HOURS = 48
RECORDING_MONTHS = 12  # from its transcript; source: job.md row 15


def next_ring(
    outcome: Outcome,
    tries: int,
    at_local: datetime,
    safe: SafeTimes = NOTHING_SAID,
    *,
    asked_for: datetime | None = None,
    pauses: int = 0,
    first_try_on: date | None = None,
    shared_line: bool = False,
    clocks: Clocks = PLAIN_CLOCKS,
) -> NextRing:
    """Give what follows a ring that ended at `at_local` (aware, in the sitter's zone).

    `tries`: how often this happened since the last pause, this ring included (no answer and off
    count together; thinking and wants pictures too). `asked_for`: the day and hour they named;
    ValueError if they said "later" and it is not given. `pauses`: how many lie behind;
    `first_try_on`: the very first ring, for letting go (this one if not given). `shared_line`:
    others are reached there too, so "never" marks the number together with who asked.
    Source: job.md F1. Its days for a ring with an interpreter and after "who gave you my number"
    are common practice, no source.
    """
    if outcome in {Outcome.NO_ANSWER, Outcome.OFF}:
        return _not_reached(tries, at_local, safe, pauses, first_try_on, clocks)
    if outcome == Outcome.SOMEONE_ELSE:
        if tries > clocks.someone_else_tries:
            return NextRing(Kind.ASK_INTRODUCER, also=("better_way",))
        return _in_days(clocks.someone_else, at_local, safe)
    if outcome in {Outcome.THINKING, Outcome.WANTS_PICTURES}:
        return _thinking(outcome, tries, at_local, safe, asked_for, clocks)
    if outcome == Outcome.RING_LATER:
        if asked_for is None:
            raise ValueError("they named no day")
        return NextRing(Kind.RING, asked_for)
    mark = "mark_number_and_person" if shared_line else "mark_number"
    return _settled(outcome, at_local, safe, asked_for, mark, clocks)


def _not_reached(
    tries: int,
    at_local: datetime,
    safe: SafeTimes,
    pauses: int,
    first_try_on: date | None,
    clocks: Clocks,
) -> NextRing:
    """Wait 2, then 4 days and try another part of the day; the third time, pause."""
    if tries < clocks.tries:
        return _in_days(2**tries, at_local, safe, but_not=part_of(at_local.time()))
    if pauses + 1 < clocks.pauses:
        return _in_days(clocks.pause, at_local, safe, kind=Kind.PAUSE)
    first = first_try_on or at_local.date()
    let_go = max(months_after(first, clocks.let_go_months), at_local.date())
    return NextRing(Kind.PAUSE, erase_at=_begin(let_go, at_local), also=("let_go",))


def _thinking(
    outcome: Outcome,
    tries: int,
    at_local: datetime,
    safe: SafeTimes,
    asked_for: datetime | None,
    clocks: Clocks,
) -> NextRing:
    """Remind them once, on their date or after 14 days; then it is theirs."""
    also = ("show_pictures",) if outcome == Outcome.WANTS_PICTURES else ()
    if tries > 1:
        return NextRing(Kind.THEIRS, also=also)
    if asked_for is not None:
        return NextRing(Kind.RING, asked_for, also=("one_reminder", *also))
    return _in_days(clocks.thinking, at_local, safe, also=("one_reminder", *also))


def _settled(
    outcome: Outcome,
    at_local: datetime,
    safe: SafeTimes,
    asked_for: datetime | None,
    mark: str,
    clocks: Clocks,
) -> NextRing:
    """Answer the outcomes that do not depend on how often we tried."""
    never_at = at_local + timedelta(hours=clocks.never_hours)
    no_at = _begin(at_local.date() + timedelta(days=clocks.no), at_local)
    by_introducer = ("only_through_introducer", "tell_artist")
    answers = {
        Outcome.WRONG_NUMBER: NextRing(Kind.ASK_INTRODUCER, also=("drop_line",)),
        Outcome.YES_MEET: NextRing(Kind.NONE, asked_for, also=("fix_meeting",)),
        Outcome.NO: NextRing(Kind.ERASE, erase_at=no_at),
        Outcome.NEVER_AGAIN: NextRing(Kind.NEVER, erase_at=never_at, also=(mark,)),
        Outcome.NEEDS_INTERPRETER: _in_days(2, at_local, safe, also=("find_interpreter",)),
        Outcome.BROKE_OFF: _in_days(
            clocks.broke_off, at_local, safe, kind=Kind.ASK_INTRODUCER, also=by_introducer
        ),
        Outcome.ASKS_WHO: _in_days(
            clocks.someone_else, at_local, safe, kind=Kind.ASK_INTRODUCER, also=("may_say_who",)
        ),
    }
    return answers[outcome]


def _in_days(
    days: int,
    at_local: datetime,
    safe: SafeTimes,
    *,
    but_not: Part | None = None,
    kind: Kind = Kind.RING,
    also: tuple[str, ...] = (),
) -> NextRing:
    """Look for the first safe day from `days` on, in a part of the day other than `but_not`.

    Where the safe hours leave no other part, the same part is tried again.
    """
    first = at_local.date() + timedelta(days=days)
    for skipped in dict.fromkeys((but_not, None)):
        for day in (first + timedelta(days=step) for step in range(WEEK)):
            shared = _shared(day, safe, skipped)
            if not shared:
                continue
            parts = tuple(shared) if skipped else ()
            windows = tuple(sorted(window for cuts in shared.values() for window in cuts))
            begin = PARTS[parts[0]].start if parts else windows[0].start
            not_before = datetime.combine(day, begin, at_local.tzinfo)
            return NextRing(kind, not_before, parts, windows, also=also)
    # Safe hours that lie outside 08-20 altogether.
    day = next(day for step in range(WEEK) if safe.on(day := first + timedelta(days=step)))
    not_before = datetime.combine(day, safe.on(day)[0].start, at_local.tzinfo)
    return NextRing(kind, not_before, windows=safe.on(day), also=also)


def _shared(day: date, safe: SafeTimes, skipped: Part | None) -> dict[Part, list[Window]]:
    """Cut the parts of a day to its safe hours; parts with nothing left are left out."""
    cuts = {
        part: [cut for window in safe.on(day) if (cut := whole.cut(window))]
        for part, whole in PARTS.items()
        if part != skipped
    }
    return {part: windows for part, windows in cuts.items() if windows}


def part_of(hour: time) -> Part:
    """Give the part of the day: before 12, before 17, or later."""
    if hour < PARTS[Part.AFTERNOON].start:
        return Part.MORNING
    return Part.AFTERNOON if hour < PARTS[Part.EVENING].start else Part.EVENING


def _begin(day: date, like: datetime) -> datetime:
    """Give the first moment of a day in the zone of another moment."""
    return datetime.combine(day, time(), like.tzinfo)


def destroy_on(since: date) -> date:
    """Give the last day of a recording where they chose none: 12 months after its transcript.

    `since`: the day of the transcript, of the recording where there is none. Source: job.md row 15.
    """
    return months_after(since, RECORDING_MONTHS)


def rest_until(contacts: Iterable[date], on: date, clocks: Clocks = PLAIN_CLOCKS) -> date | None:
    """Give the day until which somebody is left in peace; None when they may be rung.

    `contacts`: days of answered rings, messages and visits begun by us; unanswered rings, answers
    to them, safety warnings and agreed deliveries are left out by the caller. Four in the last 30
    days: rest until 30 days after the oldest of the last four. Source: job.md F2.
    """
    recent = sorted(day for day in contacts if 0 <= (on - day).days < clocks.rest)
    if len(recent) < clocks.rest_load:
        return None
    return recent[-clocks.rest_load] + timedelta(days=clocks.rest)


def is_decent(
    at_local: datetime, safe: SafeTimes = NOTHING_SAID, *, alarm_for_grave: bool = False
) -> bool:
    """Say whether this hour is one at which this person may be rung.

    `at_local` is aware, in the sitter's zone. An alarm for somebody at grave risk may break the
    hours, nothing else may. Source: job.md F18.
    """
    if alarm_for_grave:
        return True
    return any(window.holds(at_local.time()) for window in safe.on(at_local.date()))


C, M = CallState, MeetingState
CALL_MOVES: dict[CallState, tuple[CallState, ...]] = {
    C.PLANNED: (C.UNDER_WAY, C.MOVED, C.CALLED_OFF),
    C.MOVED: (C.PLANNED, C.CALLED_OFF),
    C.UNDER_WAY: (C.SPOKE, C.NOT_REACHED, C.SOMEONE_ELSE, C.WRONG_NUMBER, C.BROKEN_OFF),
    C.SPOKE: (C.SETTLED,),
    C.WRONG_NUMBER: (C.SETTLED,),
    C.BROKEN_OFF: (C.SETTLED,),
    C.NOT_REACHED: (C.PLANNED, C.SETTLED),
    C.SOMEONE_ELSE: (C.PLANNED, C.SETTLED),
    C.CALLED_OFF: (),
    C.SETTLED: (),
}
MEETING_MOVES: dict[MeetingState, tuple[MeetingState, ...]] = {
    M.PROPOSED: (M.FIXED, M.CALLED_OFF),
    M.FIXED: (M.CONFIRMED, M.MOVED, M.CALLED_OFF),
    M.CONFIRMED: (M.HELD, M.MOVED, M.NOBODY_CAME, M.CALLED_OFF),
    M.MOVED: (M.FIXED, M.CALLED_OFF),
    M.NOBODY_CAME: (M.MOVED, M.CALLED_OFF),
    M.HELD: (M.WRITTEN_UP, M.CUT_SHORT),
    M.CUT_SHORT: (M.WRITTEN_UP,),
    M.CALLED_OFF: (),
    M.WRITTEN_UP: (),
}


def may_move_call(old: CallState, new: CallState, *, has_next_step: bool) -> tuple[str, ...]:
    """Give what stands against a move of a call: no_such_move, next_step; () is yes.

    A ring that has happened is neither settled nor planned anew before its next step is set.
    """
    if new not in CALL_MOVES[old]:
        return ("no_such_move",)
    happened = old not in {C.PLANNED, C.MOVED, C.UNDER_WAY}
    return ("next_step",) if happened and not has_next_step else ()


def may_move_meeting(old: MeetingState, new: MeetingState, facts: MeetingFacts) -> tuple[str, ...]:
    """Give what stands against a move of a meeting; () is yes.

    Codes: no_such_move; place (not theirs) and exit_signal before it is fixed; too_early or
    day_passed (it is confirmed on the day before, or on the day); moved_once (after nobody came);
    why_late (written up after 48 hours without a sentence); why (cut short: safety or their wish
    only). Source: job.md 2.
    """
    if new not in MEETING_MOVES[old]:
        return ("no_such_move",)
    days_left = (facts.planned_on - facts.on).days if facts.planned_on else None
    guards = {
        "place": new != M.FIXED or facts.place_is_theirs,
        "exit_signal": new != M.FIXED or facts.has_exit_signal,
        "too_early": new != M.CONFIRMED or (days_left is not None and days_left <= 1),
        "day_passed": new != M.CONFIRMED or days_left is None or days_left >= 0,
        "moved_once": (old, new) != (M.NOBODY_CAME, M.MOVED) or not facts.times_moved,
        "why_late": new != M.WRITTEN_UP or facts.hours_since <= WRITE_UP_HOURS or facts.late_why,
        "why": old != M.CUT_SHORT or facts.ended_why in {"safety", "their_wish"},
    }
    return tuple(code for code, holds in guards.items() if not holds)


def missing_before_form(explained: Collection[str], told_back: Collection[str]) -> Missing:
    """List what is still open; the form is offered when nothing is (job.md row 13)."""
    return Missing(
        tuple(code for code in EXPLAINED if code not in explained),
        tuple(code for code in TOLD_BACK if code not in told_back),
    )


def counts(*, was_held: bool, was_cut_short: bool, power_present: bool | None) -> bool:
    """Say whether a meeting counts as met.

    Not with somebody present who has power over them (employer, chief, kin, team leader), not
    when it is not known who was there, and not when it was cut short. Source: job.md 2, Person.
    """
    return was_held and not was_cut_short and power_present is False
