"""Where a day lies from left to right, and the axis that says so."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from .geometry import Month, Size, Tick
from .rows import Row


@dataclass(frozen=True)
class Across:
    """Where each row begins across, how many pixels a day takes, and how wide it all came out."""

    x: Sequence[float]
    start: date
    scale: float
    width: float

    def of(self, day: date, size: Size) -> float:
        """Where a day begins."""
        return size.left + (day - self.start).days * self.scale


def across(rows: Sequence[Row], needs: Sequence[float], size: Size) -> Across:
    """Place days so that every label finds room: x = max(day, introducer's x + nudge).

    `needs` is the width of what is written in each row and may not be cut.
    The scale is the largest at which all fits. Where a long chain within few days would press it
    below half of that, the whole grows wider instead.
    """
    if not rows:
        return Across((), date.min, 0, size.width)
    start = min(row.on for row in rows)
    days = [(row.on - start).days for row in rows]
    beside = size.left + 2.5 * size.mark + 4
    rooms = [size.width - beside - need for need in needs]
    fits = [room / day for room, day in zip(rooms, days, strict=True) if day]
    scale = max(0, min(fits, default=0))
    floor, wider = scale / 2, 0.0
    while True:
        offsets, roads = _offsets(rows, days, scale, size.nudge)
        over = [
            (offset - room - wider, room + wider - count * size.nudge, day)
            for offset, room, (day, count) in zip(offsets, rooms, roads, strict=True)
            if offset > room + wider + 0.01
        ]
        if not over:
            break
        wanted = min(room / day if day else -1 for _, room, day in over)
        if scale > floor:
            scale = max(wanted, floor)
        else:
            wider += max(over)[0]
    x = [size.left + offset for offset in offsets]
    return Across(x, start, scale, size.width + wider)


def _offsets(
    rows: Sequence[Row], days: Sequence[int], scale: float, nudge: float
) -> tuple[list[float], list[tuple[int, int]]]:
    """How far right each row begins; and the day, and the nudges after it, that this comes of."""
    offsets: list[float] = []
    roads: list[tuple[int, int]] = []
    for row, day in zip(rows, days, strict=True):
        offset, road = day * scale, (day, 0)
        if row.above >= 0 and offsets[row.above] + nudge > offset:
            offset = offsets[row.above] + nudge
            base, count = roads[row.above]
            road = base, count + 1
        offsets.append(offset)
        roads.append(road)
    return offsets, roads


def axis(days: Iterable[date], across: Across, size: Size) -> tuple[list[Tick], list[Month]]:
    """The first days of years and quarters, and how many were reached in each month.

    A word stands only where there is room for it, years before quarters. Where neither a year nor
    a quarter begins, the year stands at the first day.
    """
    counts = Counter((day.year, day.month) for day in days)
    if not counts:
        return [], []
    end = max(counts)
    months = []
    quarters: list[Tick] = []
    year, month = across.start.year, across.start.month
    while (year, month) <= end:
        begin = date(year, month, 1)
        after = date(year + month // 12, month % 12 + 1, 1)
        left, right = across.of(begin, size), across.of(after, size)
        if count := counts[year, month]:
            months.append(Month(max(left, size.left), right - max(left, size.left), count))
        if month % 3 == 1 and begin >= across.start:
            quarters.append(Tick(left, begin, month == 1, False))
        year, month = after.year, after.month
    return _said(quarters, across, size), months


def _said(ticks: Sequence[Tick], across: Across, size: Size) -> list[Tick]:
    """Choose which ticks bear words."""
    wide = 2.8 * size.type
    each = max(1, -(-wide // max(1, 365 * across.scale)))
    are_quarters_said = 90 * across.scale >= wide
    said = [
        Tick(
            tick.x,
            tick.on,
            tick.is_year,
            tick.on.year % each == 0 if tick.is_year else are_quarters_said,
        )
        for tick in ticks
    ]
    if not any(tick.is_said for tick in said):
        said.insert(0, Tick(size.left, across.start, True, True))
    return said
