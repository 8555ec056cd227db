"""What a drawing consists of, in CSS pixels from its upper left corner."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

NOBODY_S = 5  # the shape of whoever is in no group
SHAPES = 5  # circle, square, triangle, diamond, hexagon; a sixth group begins anew
SMALL = 0.86  # the size of what is noted after a label, of its label


@dataclass(frozen=True, slots=True)
class Size:
    """How large things are: `width` of the whole, height of a `row`, size of `type`, `mark` radius.

    `thin` is the height of a row without a label: less than `row` where only few are labelled.
    `left` is kept free for marks of beginnings, or for what is said of each line; `top` for the
    axis; `gap` lies between lines. `nudge` keeps whoever was told of on the day of their
    introducer a little right of them; a twig leaves its trunk in a bend of radius `bend`.
    `is_fluid`: `width` is the least, and every place across is a share of it.
    """

    width: float
    row: float
    type: float
    mark: float
    left: float
    top: float
    gap: float
    nudge: float = 5
    thin: float = 0
    bend: float = 0
    is_fluid: bool = False


@dataclass(slots=True)
class Spot:
    """A row in its place: the mark at `x`, `y`, and what is written from `label_x` on.

    `shape` is a number up to `NOBODY_S`, -1 for somebody outside. `is_ticked`: others told us of
    them too. `is_again`: shown on another sheet already, here only to lead on from there.
    """

    code: str
    x: float
    y: float
    shape: int
    has_sat: bool
    has_print: bool
    label: str
    label_x: float
    note: str
    note_x: float
    end: float
    is_bold: bool
    is_ticked: bool
    is_withheld: bool
    is_again: bool


@dataclass(frozen=True, slots=True)
class Trunk:
    """From a mark down to the last of those it leads to; `is_open`: that is on a next sheet."""

    x: float
    top: float
    bottom: float
    thick: float
    is_open: bool


@dataclass(frozen=True, slots=True)
class Twig:
    """From a trunk to a mark."""

    start: float
    end: float
    y: float


@dataclass(frozen=True, slots=True)
class Curve:
    """From who told us too to whom they told us of; `is_later`: only after we knew them."""

    start: float
    top: float
    end: float
    bottom: float
    is_later: bool


@dataclass(frozen=True, slots=True)
class Tick:
    """The first day of a year or of a quarter on the axis; `is_said` where there is room."""

    x: float
    on: date
    is_year: bool
    is_said: bool


@dataclass(frozen=True, slots=True)
class Month:
    """How many were reached in a month, and the part of the axis that it takes."""

    x: float
    width: float
    count: int


@dataclass(slots=True)
class Line:
    """The rows of one beginning on one sheet, and how many people it has in all."""

    root: str
    top: float
    bottom: float
    people: int
    is_again: bool


@dataclass(frozen=True)
class Growth:
    """The whole drawing or one sheet of it; spots in the order of reading.

    `columns` are the places of the columns, in a drawing that has them in the place of time.
    """

    size: Size
    width: float
    height: float
    spots: Sequence[Spot]
    trunks: Sequence[Trunk]
    twigs: Sequence[Twig]
    ticks: Sequence[Tick]
    months: Sequence[Month]
    lines: Sequence[Line]
    curves: Sequence[Curve] = ()
    columns: Sequence[float] = ()

    @property
    def bottom(self) -> float:
        """Where the lines of the axis end."""
        return self.height - self.size.gap
