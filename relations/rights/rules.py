"""How long a request and an alarm run, whom an alarm may touch, and who is told first."""

from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime, time, timedelta

from relations.people.rules import counted, months_after
from relations.people.values import Risk

from .values import TOUCHED, TakingEnd

# The authority is told within 72 hours of knowing (GDPR art. 33(1)).
CLOCK = timedelta(hours=72)
# Who asks what is held is answered in a month, or in three where it is hard and they are told so
# inside the first (GDPR art. 12(3)).
ANSWER_MONTHS, LONGEST_MONTHS = 1, 3
# What lies in a bag or on a phone is of the days before, too.
DAYS_BEFORE = 7
# After so many days a backup is too old: about what two people can note again from memory
# (common practice, no source).
BACKUP_LASTS = timedelta(days=8)
# Who could not be asked as the project closed is looked for again (job.md 57).
LOOK_AGAIN_YEARS = 2
# The keeper answers, and the artist takes the register out, while both have it in mind: a yes that
# lies about is a yes for whoever finds the browser open (common practice, no source).
ANSWER_WITHIN, TAKE_WITHIN = timedelta(minutes=60), timedelta(minutes=30)
FIRST = (Risk.GRAVE, Risk.RAISED, Risk.ORDINARY)


def due_on(asked_on: date, months: int = ANSWER_MONTHS) -> date:
    """Give the day by which a person who asked is answered: the same day some months later.

    Where that month has no such day, its last. Always counted from the day of asking, never from
    another due day, so that it cannot drift. Not moved past a day off: the unrolled day is the
    safe one (checks.md 2.3). Source: GDPR art. 12(3); Regulation (EEC) 1182/71 art. 3(2)(c).
    """
    return months_after(asked_on, months)


def hours_to_answer(due: date, at: datetime) -> int:
    """Give how many whole hours are left to answer; less than none where it is late.

    The last hour of the due day is still in time; `at` is in the zone whose day it is. Source:
    Regulation (EEC) 1182/71 art. 3(2)(c). ValueError where `at` has no zone.
    """
    if at.tzinfo is None:
        raise ValueError("the hour has no zone")
    end = datetime.combine(due + timedelta(days=1), time.min, at.tzinfo)
    return (end.astimezone(UTC) - at.astimezone(UTC)) // timedelta(hours=1)


def deadline(known_at: datetime) -> datetime:
    """Give the end of the 72 hours, in UTC: hours that pass, also across a clock change.

    ValueError where `known_at` has no zone.
    """
    if known_at.tzinfo is None:
        raise ValueError("the hour that we knew has no zone")
    return known_at.astimezone(UTC) + CLOCK


def hours_left(known_at: datetime, at: datetime) -> int:
    """Give how many whole hours of the 72 are left: 72 at first, 0 in the last hour, then below.

    Hours that pass, so that a change of the clock between makes none. ValueError as `deadline`.
    """
    return (deadline(known_at) - at) // timedelta(hours=1)


def days_affected(on: date) -> tuple[date, date]:
    """Give the first and the last day of what a device may show: the day and the 7 before."""
    return on - timedelta(days=DAYS_BEFORE), on


def days_printed(on: date) -> tuple[date, date]:
    """Give the days of the papers that are carried on a day: of that day and the evening before.

    Older ones were typed in and burnt (job.md 7; common practice, no source).
    """
    return on - timedelta(days=1), on


def is_first(risk: Risk | None) -> bool:
    """Tell whether an alarm may break somebody's safe hours: for grave only. Source: job.md F18."""
    return risk == Risk.GRAVE


def in_order(people: Iterable[tuple[str, Risk | None]]) -> list[str]:
    """Order people, given as (code, risk), grave first, then raised, then ordinary, by code.

    Risk that was never set counts as raised. Source: job.md A 53 (common practice, no source).
    """
    return [code for _, code in sorted((FIRST.index(counted(risk)), code) for code, risk in people)]


def days_old(made_at: datetime, at: datetime) -> int:
    """Give how many whole days a backup is old; 0 where the clock went back since."""
    return max((at - made_at) // timedelta(days=1), 0)


def is_too_old(made_at: datetime | None, at: datetime) -> bool:
    """Tell whether the newest backup is older than 8 days, or there is none."""
    return made_at is None or at - made_at > BACKUP_LASTS


def differing(
    found: Mapping[str, int], gone: Mapping[str, int], come: Mapping[str, int]
) -> tuple[str, ...]:
    """Give what was not counted alike, by `values.TOUCHED`, by the two and by the site.

    Of keys and telephones the site knows nothing: there the two must agree. A number that either
    did not give differs.
    """
    return tuple(
        what
        for what in TOUCHED
        if what not in gone or not gone[what] == come.get(what) == found.get(what, gone[what])
    )


def look_again_on(on: date) -> date:
    """Give the day two years later; 28 February for 29."""
    return due_on(on, 12 * LOOK_AGAIN_YEARS)


def taking_until(asked_at: datetime, confirmed_at: datetime | None) -> datetime:
    """Give the moment until which the keeper may answer, or after that the artist take it."""
    return confirmed_at + TAKE_WITHIN if confirmed_at else asked_at + ANSWER_WITHIN


def taking_over(
    asked_at: datetime,
    confirmed_at: datetime | None,
    at: datetime,
    *,
    is_alarm: bool,
    is_held_back: bool,
    both_stand: bool,
) -> TakingEnd | None:
    """Say why an asking for the whole register is over by itself; None while it goes on.

    `is_alarm`: something was lost since, or an alarm is open; `is_held_back`: new uses are, or were
    since; `both_stand`: who asked is the artist still, and who confirmed, if anybody, the keeper. A
    clock that was put back makes no time: before the last press is too late as well.
    """
    last = confirmed_at or asked_at
    guards = (
        (TakingEnd.ALARM, is_alarm),
        (TakingEnd.HELD_BACK, is_held_back),
        (TakingEnd.ONE_IS_GONE, not both_stand),
        (TakingEnd.TOO_LATE, not last <= at < taking_until(asked_at, confirmed_at)),
    )
    return next((end for end, stands in guards if stands), None)
