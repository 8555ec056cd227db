"""Why what is shown must come down though nobody said stop: a hold, an arrest, a death, an end.

Plain values in, plain values out. What was taken back is heard by `undoing`.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta, tzinfo
from enum import StrEnum

from relations.consent.rules import binding
from relations.consent.values import Form, Person, Use, Wish
from relations.people.rules import OF_AGE, birthday, ripeness
from relations.people.values import Condition, Ripeness

from .rules import Force, ShownUse, UndoLine, is_on_its_day, undo_lines

# An end that is known is on the list this long before (common practice, no source).
NOTICE = timedelta(days=14)


class Because(StrEnum):
    """Why something must come down, the gravest first."""

    TAKEN_BACK = "taken_back"
    DIED = "died"
    AWAY = "away"
    HOLD = "hold"
    ENDS = "ends"
    GROWN_UP = "grown_up"


@dataclass(frozen=True, order=True)
class Cause:
    """One reason: from which moment F15 counts (aware), or by the end of which day it is down."""

    because: Because
    since: datetime
    by: date | None = None


@dataclass(frozen=True)
class Seen:
    """One picture in one use of the register, and the holds that lie on it or on the sitter."""

    use: str
    sitting: str
    starts_on: date
    ends_on: date | None = None
    press_on: date | None = None
    held_since: tuple[datetime, ...] = ()


def causes(person: Person, seen: Seen, *, at: datetime) -> tuple[Cause, ...]:
    """Give every reason why a picture of a person must come down from a use, as of `at` (aware).

    Days are those of the zone of `at`. Somebody who cannot answer or died is judged as the
    weighing does (job.md 3, step 9): stop and ask take it down, unless whom they chose said yes to
    this use on or after the event; go on lets it hang. A last day and an eighteenth birthday
    speak only of what is shown over a span, and are given from 14 days before. Source: job.md F15.
    """
    base, forms = binding(person.forms, seen.sitting)
    found: list[Cause] = [Cause(Because.HOLD, since) for since in seen.held_since]
    zone = at.tzinfo
    if person.condition is not Condition.WELL and not _goes_on(person, seen, base, forms, at):
        died = person.condition is Condition.DIED
        # What was hung after the event counts from its own first day.
        since = max(person.condition_on or seen.starts_on, seen.starts_on)
        found.append(Cause(Because.DIED if died else Because.AWAY, _morning(since, zone)))
    if base is not None and not is_on_its_day(seen.use):
        for because, day in _ends(person, base, forms):
            if _is_near(day, seen, at):
                found.append(Cause(because, _morning(day, zone), by=day))
    return tuple(sorted(found, key=_gravest))


def lines(
    seen: Seen, cause: Cause, risk: str | None, closed: Iterable[date] = ()
) -> tuple[UndoLine, ...]:
    """List what one cause asks for in one use, by F15; on a known end all is due with that day.

    Nothing where nothing is left to be done: what is over came down by itself.
    """
    shown = ShownUse(seen.use, ended_on=seen.ends_on, press_on=seen.press_on)
    found = undo_lines(shown, cause.since, risk, tuple(closed))
    if all(line.force is Force.CANNOT for line in found):
        return ()
    if cause.by is None:
        return found
    end = datetime.combine(cause.by, time(23, 59, 59), cause.since.tzinfo)
    return tuple(replace(line, due_at=end) if line.due_at else line for line in found)


def _gravest(cause: Cause) -> tuple[int, datetime]:
    return list(Because).index(cause.because), cause.since


def _morning(day: date, zone: tzinfo | None) -> datetime:
    return datetime.combine(day, time.min, zone)


def _goes_on(
    person: Person, seen: Seen, base: Form | None, forms: Sequence[Form], at: datetime
) -> bool:
    """Whether their wish, or whom they chose, lets it hang; without a form that stands: no."""
    if base is None:
        return False
    has_died = person.condition is Condition.DIED
    wishes = {form.if_died if has_died else form.if_cannot_answer for form in forms}
    if wishes == {Wish.GO_ON}:
        return True
    yes, event = person.speaker_yes.get(Use(seen.use)), person.condition_on
    is_good = yes is not None and event is not None and event <= yes <= at.date()
    return is_good and Wish.STOP not in wishes


def _ends(person: Person, base: Form, forms: Sequence[Form]) -> Iterable[tuple[Because, date]]:
    """The first last day of the forms that bind, and the birthday that ends a parent's yes."""
    last = min((form.last_day for form in forms if form.last_day), default=None)
    if last is not None:
        yield Because.ENDS, last
    was = ripeness(person.birth, base.given_on, met_as_adult=person.met_as_adult)
    if was is Ripeness.CHILD and person.birth is not None:
        yield Because.GROWN_UP, birthday(person.birth.earliest, OF_AGE)


def _is_near(day: date, seen: Seen, at: datetime) -> bool:
    """Whether a use outlasts a day that has come or comes soon."""
    outlasts = seen.ends_on is None or seen.ends_on > day
    return outlasts and at.date() >= day - NOTICE
