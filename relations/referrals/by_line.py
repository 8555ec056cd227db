"""Too many people for a mark each: a row for every line, from its first day to its last."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from .across import across, axis
from .drawing import CODES
from .geometry import Growth, Size, Spot, Twig
from .glyphs import width
from .graph import Web
from .rows import Row


@dataclass(slots=True)
class Span:
    """A line in short: the code of its beginning, its people, its first day and its last."""

    code: str
    people: int
    first: date
    last: date


def spans(web: Web) -> list[Span]:
    """Every line, that with most people first, of equals the oldest. O(n)."""
    found: dict[str, Span] = {}
    for one in web.reached.values():
        span = found.setdefault(one.line, Span(one.line, 0, one.on, one.on))
        span.people += 1
        span.last = one.on
    return sorted(found.values(), key=lambda span: -span.people)


def by_line(
    web: Web, lines: Sequence[Span], labels: Mapping[str, str], size: Size = CODES
) -> Growth:
    """Draw lines as they are given, one row each, under the axis and strip of everybody.

    `labels` are what is written at the end of each row, by code; KeyError where one is missing.
    No mark is a person.
    """
    needs = [width(labels[line.code], size.type) for line in lines]
    rows = [Row(line.code, line.last, -1, 0, line.people, True, False) for line in lines]
    start = min((line.first for line in lines), default=date.min)
    placed = across([*rows, Row("", start, -1, 0, 0, True, False)], [*needs, 0.0], size)
    ticks, months = axis((one.on for one in web.reached.values()), placed, size)
    spots: list[Spot] = []
    twigs: list[Twig] = []
    for number, (line, need) in enumerate(zip(lines, needs, strict=True)):
        x, y = placed.x[number], size.top + (number + 0.5) * size.row
        label_x = x + 1.5 * size.mark
        twigs.append(Twig(placed.of(line.first, size), x, y))
        spots.append(
            Spot(
                code=line.code,
                x=x,
                y=y,
                shape=-1,
                has_sat=False,
                has_print=False,
                label=labels[line.code],
                label_x=label_x,
                note="",
                note_x=label_x,
                end=label_x + need,
                is_bold=False,
                is_ticked=False,
                is_withheld=False,
                is_again=False,
            )
        )
    height = size.top + len(lines) * size.row + size.gap
    straight = replace(size, bend=0)
    return Growth(straight, placed.width, height, spots, [], twigs, ticks, months, [])
