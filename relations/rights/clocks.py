"""The clocks of what is kept: the first day on which each thing is proposed to be let go.

Every number is a default of job.md F-keep. A day is a day of the project's own zone; a month ends
on the same day of a later month, or on its last day where that is shorter (`people.rules`).
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from relations.people.rules import months_after
from relations.people.values import Clocks, Standing


class Clock(StrEnum):
    """What runs out, in the order of the list."""

    NAMED = "named_not_vouched"
    SAID_NO = "said_no"
    NEVER_REACHED = "never_reached"
    PAUSED = "paused"
    STEPPED_BACK = "stepped_back"
    WAYS = "ways"  # numbers and places of those who sat
    RINGS = "ring_notes"
    LINKS = "links"
    RECORDINGS = "recordings"
    FORMS = "forms"
    SEE_LOG = "see_log"
    BACKUPS = "backups"


# Clocks at whose end the whole person goes.
OF_PERSONS = frozenset(
    {Clock.NAMED, Clock.SAID_NO, Clock.NEVER_REACHED, Clock.PAUSED, Clock.STEPPED_BACK}
)
# Nobody's sentence makes a copy of somebody erased last longer than 90 days.
NEVER_LATER = frozenset({Clock.BACKUPS})
_PEOPLE = Clocks()
NAMED_DAYS, SAID_NO_DAYS = _PEOPLE.named, _PEOPLE.said_no
# F-keep says twelve months, which in a leap year end a day after 365 days.
REACHED_MONTHS = 12
WAYS_MONTHS, RINGS_MONTHS, LOG_MONTHS = 24, 24, 12
LINKS_MONTHS = _PEOPLE.links
# Five years after the last use: civil limitation in France, from memory.
FORMS_MONTHS = 60
BACKUP_DAYS = 90
POSTPONED = timedelta(days=90)
# Nobody has sat: whoever was never reached by then is let go.
ASKED = frozenset({Standing.VOUCHED_FOR, Standing.BEING_RUNG, Standing.PAUSE})


@dataclass(frozen=True, slots=True)
class Proposal:
    """One thing that may be let go: which clock, what it is called on the list, since which day.

    `called` is a code, a serial or a month, never a name; `key` is the random key of its row, or
    the month again.
    """

    clock: Clock
    called: str
    due_on: date
    key: str


@dataclass(frozen=True, slots=True)
class Kept:
    """What is known of one person whom a clock may let go; None where there was no such day.

    `in_use_until`: of each form that was given, the day its use ended; None while it is in use.
    """

    standing: Standing
    since: date
    first_try_on: date | None = None
    was_reached: bool = False
    in_use_until: tuple[date | None, ...] = ()


def person(kept: Kept) -> tuple[Clock, date] | None:
    """Give the clock that runs for a person, and its day; None where none runs."""
    if kept.standing is Standing.NAMED:
        return Clock.NAMED, kept.since + timedelta(days=NAMED_DAYS)
    if kept.standing is Standing.SAID_NO:
        return Clock.SAID_NO, kept.since + timedelta(days=SAID_NO_DAYS)
    if kept.standing in ASKED and kept.first_try_on is not None and not kept.was_reached:
        return Clock.NEVER_REACHED, months_after(kept.first_try_on, REACHED_MONTHS)
    if kept.standing is Standing.PAUSE:
        return Clock.PAUSED, months_after(kept.since, REACHED_MONTHS)
    if kept.standing is Standing.STEPPED_BACK:
        return _stepped_back(kept)
    return None


def _stepped_back(kept: Kept) -> tuple[Clock, date] | None:
    """With them their forms go: not before the proof that they said yes is needed no more."""
    days = [form(until) for until in kept.in_use_until]
    if None in days:
        return None
    return Clock.STEPPED_BACK, max([kept.since, *(day for day in days if day is not None)])


def ways(*, yes_until: Collection[date | None], seen_on: date) -> date | None:
    """Give the day on which the numbers and places of somebody who sat are due.

    24 months after the last yes ended; where there never was one, after we last saw or spoke with
    them. `yes_until`: of each yes, its last day; None, and then nothing is due, while one stands.
    """
    if None in yes_until:
        return None
    return months_after(ended(yes_until) or seen_on, WAYS_MONTHS)


def ring(rung_on: date) -> date:
    """Give the day from which of a ring only its day and its outcome are kept."""
    return months_after(rung_on, RINGS_MONTHS)


def link(*, sat_on: date | None, closed_on: date | None) -> date | None:
    """Give the day on which it need not be known any more who told us of somebody.

    36 months after their last sitting, or where their file is closed that day (job.md F4); None
    where neither is so. Whoever is still rung through them is not asked of here.
    """
    days = [months_after(sat_on, LINKS_MONTHS)] if sat_on else []
    return min([*days, *([closed_on] if closed_on else [])], default=None)


def recording(
    destroy_on: date, *, is_theirs: bool, proves: Iterable[date | None] = ()
) -> date | None:
    """Give the day on which a recording is due: the sitter's own, else twelve months.

    `proves`: where it is the proof of forms, until when each was in use; it lasts as long as they
    do (`form`), unless the sitter chose the day. None while one of them is in use.
    """
    days = [form(until) for until in proves]
    if is_theirs or not days:
        return destroy_on
    if None in days:
        return None
    return max([destroy_on, *(day for day in days if day is not None)])


def form(in_use_until: date | None) -> date | None:
    """Give the day on which a form is due: five years after its use ended; None while in use."""
    return None if in_use_until is None else months_after(in_use_until, FORMS_MONTHS)


def ended(days: Collection[date | None]) -> date | None:
    """Give the last of these days, each the end of something; None while one has not ended."""
    found = [day for day in days if day is not None]
    return max(found, default=None) if len(found) == len(days) else None


def see_log(oldest_on: date) -> date:
    """Give the day on which a line of the log of who looked at what is due."""
    return months_after(oldest_on, LOG_MONTHS)


def log_from(on: date) -> date:
    """Give the first day whose lines in the log of who looked are not due yet on that day."""
    day = months_after(on, -LOG_MONTHS)
    while see_log(day) <= on:
        day += timedelta(days=1)
    return day


def backup(last_day: date) -> date:
    """Give the day on which the key of a month of backups is due: 90 days after it, and one."""
    return last_day + timedelta(days=BACKUP_DAYS + 1)


def postponed(on: date) -> date:
    """Give the day until which something is kept on that somebody postpones on a day."""
    return on + POSTPONED


def proposals(found: Iterable[tuple[Clock, str, date | None, str]], on: date) -> list[Proposal]:
    """Give what is due on a day of (clock, called, day or None, key), by clock, day and name."""
    due = [
        Proposal(clock, called, day, key)
        for clock, called, day, key in found
        if day is not None and day <= on
    ]
    order = list(Clock)
    return sorted(due, key=lambda one: (order.index(one.clock), one.due_on, one.called, one.key))
