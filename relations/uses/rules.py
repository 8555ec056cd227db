"""What must come down after someone takes a picture back, and by when (F15).

Plain values in, codes out. Where a deadline counts in days it ends with that day.
"""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from enum import StrEnum

# Cannot be called back once out of the house.
INK = frozenset({"book", "press", "print_sale", "jury"})
# Reach every country, whatever is planned.
EVERYWHERE = frozenset({"web", "social_media", "press"})
# Risk never settled counts as raised.
ORDINARY = "ordinary"

ASKED_DAYS = 2
TEACHING_DAYS = 7
SEALING_DAYS = 14
WALL_WORKING_DAYS = 2
ONLINE = timedelta(hours=24)


class Force(StrEnum):
    """How far our hand reaches."""

    FORCED = "forced"
    ASKED = "asked"
    CANNOT = "cannot"


@dataclass(frozen=True)
class UndoLine:
    """One thing to do, or to say: `due_at` is aware, None where nothing can be done."""

    code: str
    due_at: datetime | None
    force: Force


@dataclass(frozen=True)
class ShownUse:
    """What the use register knows: the use, its last day if it is over, a book's press day."""

    use: str
    ended_on: date | None = None
    press_on: date | None = None


@dataclass(frozen=True)
class Span:
    """The days over which a planned use is judged; `end` None is open."""

    start: date
    end: date | None


def is_on_its_day(use: str, *, one_day: bool = False) -> bool:
    """Say whether a use is judged on its start alone: ink, or marked one day (job.md 3)."""
    return one_day or use in INK


def is_everywhere(use: str, *, paper_only: bool = False) -> bool:
    """Say whether a use is seen in every country: web, social media, press unless on paper."""
    return use in EVERYWHERE and not (use == "press" and paper_only)


def span(use: str, starts_on: date, ends_on: date | None, *, one_day: bool = False) -> Span:
    """Give the days a planned use is judged over; ValueError if it ends before it starts."""
    if is_on_its_day(use, one_day=one_day):
        return Span(starts_on, starts_on)
    if ends_on is not None and ends_on < starts_on:
        msg = "a use cannot end before it starts"
        raise ValueError(msg)
    return Span(starts_on, ends_on)


def undo_lines(
    shown: ShownUse, stopped_at: datetime, risk: str | None, closed: Collection[date] = ()
) -> tuple[UndoLine, ...]:
    """List what a stop asks for in one shown use, soonest first as F15 gives them.

    `stopped_at` is aware, in the zone where the work is done; `risk` ordinary, raised, grave or
    None (= raised); `closed` are days off besides Saturday and Sunday. The last line always says
    that copies made by others cannot be undone. What was over before the stop has no line of its
    own, save ink, archive and fund-raising, which outlive their end. KeyError for another use.
    Source: job.md F15 (common practice; unsold stock gets the days of any asking).
    """
    day = stopped_at.date()
    is_over = shown.ended_on is not None and shown.ended_on < day
    lines = () if is_over and shown.use in _HUNG else _LINES[shown.use](shown, stopped_at)
    if shown.use == "exhibition" and lines and risk == ORDINARY:
        lines = (_by_end_of("off_wall", stopped_at, working_day(day, WALL_WORKING_DAYS, closed)),)
    return (*lines, UndoLine("copies_by_others", None, Force.CANNOT))


def working_day(day: date, count: int, closed: Collection[date] = ()) -> date:
    """Give the `count`-th working day after `day` (Monday to Friday, not in `closed`)."""
    while count:
        day += timedelta(days=1)
        count -= day.weekday() < 5 and day not in closed
    return day


def _by_end_of(code: str, stopped_at: datetime, day: date, force: Force = Force.FORCED) -> UndoLine:
    """Make a line due with the last second of `day` in the zone of the stop."""
    return UndoLine(code, datetime.combine(day, time(23, 59, 59), stopped_at.tzinfo), force)


def _in_days(
    code: str, stopped_at: datetime, days: int, force: Force = Force.FORCED
) -> tuple[UndoLine, ...]:
    """Make the one line due `days` after the stop."""
    return (_by_end_of(code, stopped_at, stopped_at.date() + timedelta(days=days), force),)


def _wall(_shown: ShownUse, stopped_at: datetime) -> tuple[UndoLine, ...]:
    """Cover it now, whatever the opening hours."""
    return (UndoLine("cover", stopped_at, Force.FORCED),)


def _online(_shown: ShownUse, stopped_at: datetime) -> tuple[UndoLine, ...]:
    """Take it down within 24 hours of the clock, also across a clock change."""
    utc = stopped_at.timestamp() + ONLINE.total_seconds()
    due_at = datetime.fromtimestamp(utc, stopped_at.tzinfo)
    return (UndoLine("take_down", due_at, Force.FORCED),)


def _teaching(_shown: ShownUse, stopped_at: datetime) -> tuple[UndoLine, ...]:
    """Take it out of the slides."""
    return _in_days("out_of_slides", stopped_at, TEACHING_DAYS)


def _archive(_shown: ShownUse, stopped_at: datetime) -> tuple[UndoLine, ...]:
    """Have it sealed where it lies."""
    return _in_days("seal", stopped_at, SEALING_DAYS)


def _portfolio(_shown: ShownUse, stopped_at: datetime) -> tuple[UndoLine, ...]:
    """Take the print out of the box the same day."""
    return _in_days("out_of_box", stopped_at, 0)


def _asked(_shown: ShownUse, stopped_at: datetime) -> tuple[UndoLine, ...]:
    """Ask those who hold it; nobody can be forced."""
    return _in_days("ask_holder", stopped_at, ASKED_DAYS, Force.ASKED)


def _print_sale(_shown: ShownUse, stopped_at: datetime) -> tuple[UndoLine, ...]:
    """Withdraw the offer now; who bought keeps."""
    return (
        UndoLine("withdraw_offer", stopped_at, Force.FORCED),
        UndoLine("sold_prints_stay", None, Force.CANNOT),
    )


def _book(shown: ShownUse, stopped_at: datetime) -> tuple[UndoLine, ...]:
    """Before the press day: out. From that day on, or if it is not known: what can be asked."""
    day = stopped_at.date()
    if shown.press_on is not None and day < shown.press_on:
        return (_by_end_of("out_of_book", stopped_at, shown.press_on - timedelta(days=1)),)
    return (
        *_in_days("ask_unsold_stock", stopped_at, ASKED_DAYS, Force.ASKED),
        *_in_days("out_of_next_printing", stopped_at, ASKED_DAYS),
        UndoLine("sold_copies_stay", None, Force.CANNOT),
    )


# Down by themselves when the use is over.
_HUNG = frozenset({"exhibition", "web", "social_media", "teaching", "portfolio"})
_LINES = {
    "exhibition": _wall,
    "book": _book,
    "press": _asked,
    "web": _online,
    "social_media": _online,
    "teaching": _teaching,
    "archive": _archive,
    "fund_raising": _asked,
    "print_sale": _print_sale,
    "portfolio": _portfolio,
    "jury": _asked,
}
