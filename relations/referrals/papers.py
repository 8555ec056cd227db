"""The drawing on paper: marks and lines as SVG, every word as text of the page itself.

The layout engine writes text inside SVG letter by letter: Arabic comes out unjoined and backwards
(introductions.md 3). So names are set over the marks as HTML, where all scripts are right.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from django.template.loader import render_to_string
from django.utils.translation import get_language, get_language_bidi
from django.utils.translation import gettext as _

from relations.documents.render import lay_out

from . import drawn_words as say
from .by_line import by_line, spans
from .drawing import Drawn, growth
from .drawn import key, markup
from .facts import facts
from .geometry import Growth, Size
from .paging import TooManyError, overview, sheets
from .scopes import By, House, Scope
from .svg import FILE, Said, write


class Paper(StrEnum):
    """The paper, on its long side."""

    A4 = "A4"
    A3 = "A3"


class Sheets(StrEnum):
    """Everybody labelled on as many sheets as it takes, or all on one."""

    MANY = "many"
    ONE = "one"


MARGIN = 10  # mm
PIXEL = 25.4 / 96  # mm
# What stands over and under a drawing, in pixels: what it is and the caution; the key.
HEAD, FOOT = 46, 62
SIDES = {Paper.A4: (297, 210), Paper.A3: (420, 297)}  # mm
NAMED = Size(0, 16, 10.5, 4.6, 128, 56, 9, nudge=6, bend=3.5)
OVER = Size(0, 9.5, 8, 3, 24, 56, 2, nudge=4)
LINES = replace(NAMED, left=25)
LARGEST = 1.4


@dataclass(frozen=True)
class Word:
    """One piece of text in its place: `x` from the left, `y` of its middle; pixels."""

    x: float
    y: float
    text: str
    look: str = ""


@dataclass(frozen=True)
class Sheet:
    """One sheet: its lines and marks, and the words over them in the order of reading."""

    svg: str
    words: Sequence[Word]
    size: float
    again: bool


def paper(house: House, scope: Scope, *, on: Paper, spread: Sheets, printed: date) -> bytes:
    """Make the PDF of a scope; nothing of a person is in its title or its metadata.

    Where even the thinnest rows do not fit one sheet, lines are drawn in the place of people.
    """
    plan, left = house.drawn(scope)
    wide, high = _room(on)
    is_cut = bool(left) and scope.by == By.WHOLE and spread is Sheets.ONE
    laid = [] if is_cut else _laid(plan, spread, wide, high)
    is_by_line = not laid
    if is_by_line:
        laid = [_by_lines(house, replace(LINES, width=wide), high)]
    told = facts(plan, house.known, house.groups)
    context = {
        "scope": scope,
        "sheets": [_sheet(number, one) for number, one in enumerate(laid, start=1)],
        "key": [] if is_by_line else key(house, plan, told, FILE),
        "left_out": 0 if is_by_line else left,
        "is_named": bool(house.names),
        "is_by_line": is_by_line,
        "printed": printed,
        "language": get_language() or "en",
        "direction": "rtl" if get_language_bidi() else "ltr",
    }
    html = render_to_string("referrals/paper/growth.html", context)
    css = render_to_string("referrals/paper/growth.css", {"size": on, "margin": MARGIN})
    return lay_out(html, lang=get_language() or "en", title=_("Introductions"), css=css).content


def _room(on: Paper) -> tuple[float, float]:
    """How wide a drawing may be on a paper, and how high."""
    wide, high = SIDES[on]
    return (wide - 2 * MARGIN) / PIXEL - 2, (high - 2 * MARGIN) / PIXEL - HEAD - FOOT


def _laid(plan: Drawn, spread: Sheets, wide: float, high: float) -> list[Growth]:
    """The people of a plan on their sheets; none where they do not fit the one asked for."""
    if spread is Sheets.MANY:
        size = replace(NAMED, width=wide)
        room = high - size.top - size.gap
        return sheets(plan, _larger(plan, size, room), room)
    size = replace(OVER, width=wide)
    try:
        return [overview(plan, size, high - size.top - size.gap)]
    except TooManyError:
        return []


def _larger(plan: Drawn, size: Size, room: float) -> Size:
    """A size at which few people fill their one sheet, up to `LARGEST` times that of many."""
    high = growth(plan, size).height - size.top - size.gap
    times = min(LARGEST, (room - 1) / high) if high else 1
    if times <= 1:
        return size
    return replace(
        size,
        row=size.row * times,
        type=size.type * times,
        mark=size.mark * times,
        gap=size.gap * times,
        left=size.left * times,
    )


def _by_lines(house: House, size: Size, high: float) -> Growth:
    fit = int((high - size.top - size.gap) / size.row)
    lines = spans(house.web)[:fit]
    labels = {line.code: say.span(house.label(line.code), line.people) for line in lines}
    return by_line(house.web, lines, labels, size)


def _sheet(number: int, laid: Growth) -> Sheet:
    lines = {line.root: ("", "") for line in laid.lines} if _has_left(laid) else {}
    ink = replace(FILE, mark=f"s{number}-")  # no mark of a document may bear the id of another
    svg = write(laid, Said("", "", lines=lines), ink, with_words=False)
    again = any(spot.is_again for spot in laid.spots)
    return Sheet(markup(svg), list(_words(laid)), laid.size.type, again)


def _has_left(laid: Growth) -> bool:
    """Whether there is room at the left to say of each line whose it is."""
    return laid.size.left >= NAMED.left


def _words(laid: Growth) -> Iterator[Word]:
    """Everything that is written on a sheet: the axis, then row by row."""
    for tick in laid.ticks:
        if tick.is_said:
            yield Word(tick.x, 8, say.tick(tick), "mid year" if tick.is_year else "mid")
    has_left = _has_left(laid)
    if has_left:
        yield Word(4, laid.size.top - 14, say.strip(), "note")
    lines = {line.root: line for line in laid.lines} if has_left else {}
    starts = {line.root: line.top + laid.size.row / 2 for line in laid.lines}
    for root, line in lines.items():
        whose, count = say.line(root, line.people)
        yield Word(8, starts[root], whose)
        if count:
            yield Word(8, starts[root] + laid.size.type * 1.2, count, "note")
    for spot in laid.spots:
        if spot.label:
            yield Word(spot.label_x, spot.y, spot.label, "bold" if spot.is_bold else "")
        if spot.note:
            yield Word(spot.note_x, spot.y, spot.note, "note")
