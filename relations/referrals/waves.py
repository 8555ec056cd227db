"""The second view: a column for each step away from the artist, whoever told above none of it.

Nobody is placed by time. Whoever told of nobody has a row; who told of others stands halfway
between the first and the last of them, so that no line crosses another. All lengths are CSS pixels.
Source: introductions.md 3, after Reingold and Tilford's tidy trees (1981), leaves stacked.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from .drawing import Drawn
from .geometry import Growth, Size, Spot, Trunk, Twig
from .glyphs import width
from .rows import Row, in_rows

WAVES = Size(328, 26, 14, 6, 24, 46, 10)
# Between the longest label of a column and the next mark; from a mark back to what joins siblings.
APART, BACK = 20, 13


@dataclass(frozen=True)
class Waves:
    """The drawing, and for each of its columns how many people are so many steps away."""

    growth: Growth
    people: Sequence[int]


def waves(drawn: Drawn, size: Size = WAVES) -> Waves:
    """Lay out everybody, or those asked for, by steps; O(n log n).

    Column 0 holds own starts and the labels of who is outside. Whoever was told of by somebody
    withheld stands in the column of their step, joined to nobody. Raises KeyError as `growth`.
    """
    rows = in_rows(drawn.web, drawn.only)
    steps = [0 if row.is_outside else drawn.web.reached[row.code].wave for row in rows]
    labels = [
        drawn.outside[row.code] if row.is_outside else drawn.people[row.code].label for row in rows
    ]
    x, wide = _columns(steps, labels, size)
    y, high = _heights(rows, size)
    spots = [
        _spot(drawn, row, label, x[step], place, size)
        for row, label, step, place in zip(rows, labels, steps, y, strict=True)
    ]
    trunks, twigs = _joined(rows, spots, size)
    people = Counter(step for row, step in zip(rows, steps, strict=True) if not row.is_outside)
    counts = [people[step] for step in range(len(x))]
    return Waves(Growth(size, wide, high, spots, trunks, twigs, [], [], [], columns=x), counts)


def _columns(steps: Sequence[int], labels: Sequence[str], size: Size) -> tuple[list[float], float]:
    """Where each column stands, and how wide the whole is."""
    widest = [0.0] * (max(steps, default=-1) + 1)
    for step, label in zip(steps, labels, strict=True):
        widest[step] = max(widest[step], width(label, size.type, is_bold=True))
    x, at = [], size.left
    for wide in widest:
        x.append(at)
        at += 2.5 * size.mark + wide + APART
    return x, max(size.width, at - APART + 4)


def _heights(rows: Sequence[Row], size: Size) -> tuple[list[float], float]:
    """Where each row stands: one below the other, and who told of others between these."""
    y = [0.0] * len(rows)
    ends: dict[int, tuple[float, float]] = {}
    inner = {row.above for row in rows}
    at = size.top
    for number, row in enumerate(rows):
        if row.above < 0 < number:
            at += size.gap
        if number not in inner:
            y[number] = at + size.row / 2
            at += size.row
    for number in range(len(rows) - 1, -1, -1):
        if number in ends:
            y[number] = sum(ends[number]) / 2
        above = rows[number].above
        first, last = ends.get(above, (y[number], y[number]))
        ends[above] = min(first, y[number]), max(last, y[number])
    return y, at + size.gap


def _spot(drawn: Drawn, row: Row, label: str, x: float, y: float, size: Size) -> Spot:
    person = None if row.is_outside else drawn.people[row.code]
    label_x = x + 2.5 * size.mark
    return Spot(
        code=row.code,
        x=x,
        y=y,
        shape=-1 if person is None else drawn.shape(person),
        has_sat=person is not None and person.has_sat,
        has_print=person is not None and person.has_print,
        label=label,
        label_x=label_x,
        note="",
        note_x=label_x,
        end=label_x + width(label, size.type),
        is_bold=False,
        is_ticked=False,
        is_withheld=row.is_withheld,
        is_again=False,
    )


def _joined(
    rows: Sequence[Row], spots: Sequence[Spot], size: Size
) -> tuple[list[Trunk], list[Twig]]:
    """From behind each label to a line down, and from there to everybody they told of."""
    below: dict[int, list[Spot]] = {}
    for row, spot in zip(rows, spots, strict=True):
        if row.above >= 0:
            below.setdefault(row.above, []).append(spot)
    trunks, twigs = [], []
    for number, told in below.items():
        x = min(spot.x for spot in told) - BACK
        places = [spot.y for spot in told]
        trunks.append(Trunk(x, min(places), max(places), 1.2, is_open=False))
        twigs.append(Twig(spots[number].end + 4, x, spots[number].y))
        twigs.extend(Twig(x, spot.x, spot.y) for spot in told)
    return trunks, twigs
