"""The drawing cut into sheets of paper: each begins with the path that leads to its first row."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from .drawing import Drawn, Laid, growth, lay
from .geometry import Growth, Size
from .rows import Row, in_rows

# The lowest a row without a label can be and still be told from the next, and the radius of its
# mark as a part of its height, as on the pictures we looked at. A label then needs its own letters
# and what the rings of the rows above and below take of its row: two fifths of a thin row each.
THINNEST, PART, RINGS = 2.2, 0.55, 0.9


class TooManyError(ValueError):
    """So many people that no row of theirs would be seen on one sheet."""


@dataclass(frozen=True)
class Page:
    """The rows of one sheet: the path that leads on from an earlier one, and its own."""

    again: tuple[int, ...]
    own: tuple[int, ...]

    @property
    def shown(self) -> list[tuple[int, bool]]:
        """As `Laid.sheet` takes them."""
        return [*((number, True) for number in self.again), *((one, False) for one in self.own)]


def sheets(drawn: Drawn, size: Size, room: float) -> list[Growth]:
    """Lay everybody out on as many sheets as it takes, one where there is nobody.

    `room` is how high the rows of one sheet may be together, in pixels. Every row is the sheet's
    own once; axis and strip are the same on all, and trunks that go on say so. Of a path longer
    than half a sheet the last part is repeated.
    """
    laid = lay(drawn, size)
    return [laid.sheet(page.shown) for page in pages(laid, room)] or [laid.sheet(())]


def pages(laid: Laid, room: float) -> list[Page]:
    """Which rows stand on which sheet, in order."""
    found: list[Page] = []
    again: tuple[int, ...] = ()
    own: list[int] = []
    used = 0.0
    for number, row in enumerate(laid.rows):
        takes = _takes(laid, number, own or again)
        if own and used + takes > room:
            # A beginning is not left alone at the foot, before the first they told us of.
            is_alone = len(own) > 1 and row.above == own[-1] == row.root
            over = [own.pop()] if is_alone else []
            found.append(Page(again, tuple(own)))
            again, own = _path(laid, laid.rows[over[0]] if over else row, room / 2), over
            used = sum(laid.height(one) for one in (*again, *over))
            takes = _takes(laid, number, over or again)
        own.append(number)
        used += takes
    return [*found, Page(again, tuple(own))] if own else found


def _takes(laid: Laid, number: int, before: Sequence[int]) -> float:
    """How high a row is, with the gap where a new line begins."""
    is_new = bool(before) and laid.rows[before[-1]].root != laid.rows[number].root
    return laid.height(number) + laid.size.gap * is_new


def _path(laid: Laid, row: Row, room: float) -> tuple[int, ...]:
    """Who leads to a row, from the beginning on; only the nearest where all take too much room."""
    path: list[int] = []
    above = row.above
    while above >= 0:
        room -= laid.height(above)
        if room < 0:
            break
        path.append(above)
        above = laid.rows[above].above
    return tuple(reversed(path))


def overview(drawn: Drawn, size: Size, room: float) -> Growth:
    """Lay everybody out on one sheet: in rows of full height where they fit, else in thin ones.

    In thin rows only those on whom most people hang have a label, as many as leave the others
    their place. A row with a label is high enough for it, so that no label meets a line here
    either. Raises TooManyError where the thinnest rows do not fit.
    """
    rows = in_rows(drawn.web, drawn.only)
    room -= size.gap * sum(row.above < 0 for row in rows[1:])
    if len(rows) * size.row <= room:
        return growth(drawn, size)
    if len(rows) * THINNEST > room:
        raise TooManyError
    many = int((room - len(rows) * THINNEST) / (size.type - (1 - RINGS) * THINNEST))
    hanging = drawn.web.hanging
    first = sorted(rows, key=lambda row: (-hanging.get(row.code, 0), row.on, row.code))
    named = {row.code for row in first[:many] if hanging.get(row.code, 0)}
    thin = (room - len(named) * size.type) / (len(rows) - (1 - RINGS) * len(named))
    small = replace(
        size,
        row=size.type + RINGS * thin,
        thin=thin,
        mark=min(size.mark, thin * PART),
        bend=0,
    )
    bare = {row.code for row in rows} - named
    return growth(replace(drawn, unlabelled=bare, notes={}), small)
