"""Where everything of the drawing "growth" stands: time across, one row a person, no line crossed.

A row holds one person, and rows follow depth first. A trunk that passes a row therefore belongs to
somebody its person goes back to, and stands left of the mark and of what is written after it: no
label meets a line or another label, however many people there are. All lengths are CSS pixels.
Source: introductions.md 3.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from .across import Across, across, axis
from .geometry import NOBODY_S, SHAPES, SMALL, Growth, Line, Month, Size, Spot, Tick, Trunk, Twig
from .glyphs import width
from .graph import Kind, Web
from .rows import Row, in_rows
from .values import Person

# On a page: by code, which fits a small telephone and grows with the page; by name.
CODES = Size(328, 26, 14, 6, 24, 62, 10, is_fluid=True)
NAMES = Size(860, 26, 14, 6, 150, 62, 12, nudge=7, bend=4)


@dataclass(frozen=True)
class Drawn:
    """What is drawn: the web, everybody's mark and words, all by code.

    `people` has a mark for every code that is drawn, `outside` the label of everybody outside;
    nothing else of anybody gets into a drawing. `groups` are keys in the order of their shapes.
    `notes` are words set small after the label. `only` leaves out everybody else.
    `unlabelled` are drawn without a word, in thin rows.
    """

    web: Web
    people: Mapping[str, Person]
    outside: Mapping[str, str] = field(default_factory=dict)
    groups: Sequence[str] = ()
    notes: Mapping[str, str] = field(default_factory=dict)
    only: Collection[str] | None = None
    unlabelled: Collection[str] = ()

    def shape(self, person: Person) -> int:
        """The number of the shape of somebody's group."""
        group = person.community
        return self.groups.index(group) % SHAPES if group in self.groups else NOBODY_S


def growth(drawn: Drawn, size: Size = CODES) -> Growth:
    """Lay out the whole as one sheet; an empty one where nobody was reached. O(n log n).

    Raises KeyError where `drawn` has no mark or label for a code: none is ever made up.
    """
    laid = lay(drawn, size)
    return laid.sheet((number, False) for number in range(len(laid.rows)))


def lay(drawn: Drawn, size: Size) -> "Laid":
    """Find rows, words and places across, before any sheet is cut from them."""
    rows = in_rows(drawn.web, drawn.only)
    bold = _bold(rows, drawn.web)
    words = [_words(row, drawn, size, row.code in bold) for row in rows]
    return Laid(drawn, size, rows, words, bold, across(rows, [one.least for one in words], size))


def _bold(rows: Sequence[Row], web: Web) -> set[str]:
    """On whom so many hang that their label stands out: one in sixteen, and four at least."""
    many = max(4, 0.06 * len(rows))
    return {row.code for row in rows if web.hanging.get(row.code, 0) >= many}


@dataclass(slots=True)
class _Words:
    """What is written in a row, how wide each is, and how much of it must find room."""

    label: str
    note: str
    label_width: float
    whole: float
    least: float


def _words(row: Row, drawn: Drawn, size: Size, is_bold: bool) -> _Words:
    """A note that takes more than two fifths of the width with its label waits for free room."""
    if row.code in drawn.unlabelled:
        return _Words("", "", 0, 0, 0)
    label = drawn.outside[row.code] if row.is_outside else drawn.people[row.code].label
    wide = width(label, size.type, is_bold=is_bold)
    note = drawn.notes.get(row.code, "")
    if not note:
        return _Words(label, "", wide, wide, wide)
    whole = wide + size.type / 2 + width(note, size.type * SMALL)
    return _Words(label, note, wide, whole, whole if whole < 0.4 * size.width else wide)


@dataclass(frozen=True)
class Laid:
    """All rows with their places across, from which sheets are cut."""

    drawn: Drawn
    size: Size
    rows: Sequence[Row]
    words: Sequence[_Words]
    bold: Collection[str]
    across: Across

    def height(self, number: int) -> float:
        """How high one row is."""
        return self.size.row if self.words[number].label else self.size.thin or self.size.row

    @cached_property
    def ticked(self) -> set[str]:
        """Whom others told us of too, sooner or later."""
        more = (Kind.FURTHER, Kind.SPOKE_FOR)
        return {link.person for link in self.drawn.web.links if link.kind in more}

    @cached_property
    def last(self) -> dict[int, int]:
        """For each row that leads to others, the last of these."""
        return {row.above: number for number, row in enumerate(self.rows)}

    def sheet(self, shown: Iterable[tuple[int, bool]]) -> Growth:
        """Put rows on one sheet, from the top: their numbers, and whether each is there again."""
        size, rows, x = self.size, self.rows, self.across.x
        spots: list[Spot] = []
        twigs: list[Twig] = []
        lines: list[Line] = []
        ys: dict[int, float] = {}
        ends: dict[int, float] = {}
        cursor, root = size.top, -1
        for number, is_again in shown:
            row, height = rows[number], self.height(number)
            if row.root != root:
                cursor += size.gap if spots else 0
                root = row.root
                lines.append(Line(rows[root].code, cursor, cursor, rows[root].people, is_again))
            y = ys[number] = cursor + height / 2
            cursor += height
            lines[-1].bottom = cursor
            spots.append(self._spot(number, y, is_again))
            if row.above in ys:
                ends[row.above] = y
                twigs.append(Twig(x[row.above], x[number], y))
        final = max(ys, default=-1)
        trunks = [
            Trunk(x[number], ys[number], end, self._thick(number), is_open)
            for number in ys
            for is_open in (self.last.get(number, -1) > final,)
            if (end := cursor if is_open else ends.get(number))
        ]
        height = cursor + size.gap
        ticks, months = self._axis
        return Growth(size, self.across.width, height, spots, trunks, twigs, ticks, months, lines)

    def _spot(self, number: int, y: float, is_again: bool) -> Spot:
        row, words, size = self.rows[number], self.words[number], self.size
        x = self.across.x[number]
        label_x = x + 2.5 * size.mark
        person = None if row.is_outside else self.drawn.people[row.code]
        note = words.note if label_x + words.whole <= self.across.width else ""
        return Spot(
            code=row.code,
            x=x,
            y=y,
            shape=-1 if person is None else self.drawn.shape(person),
            has_sat=person is not None and person.has_sat,
            has_print=person is not None and person.has_print,
            label=words.label,
            label_x=label_x,
            note=note,
            note_x=label_x + words.label_width + size.type / 2,
            end=label_x + (words.whole if note else words.label_width),
            is_bold=row.code in self.bold,
            is_ticked=row.code in self.ticked,
            is_withheld=row.is_withheld,
            is_again=is_again,
        )

    def _thick(self, number: int) -> float:
        """A trunk is the thicker the more people, as recorded, were reached only that way."""
        few = min(1, 60 / len(self.rows))
        hanging = self.drawn.web.hanging.get(self.rows[number].code, 0)
        return self.size.mark / 6 * min(4.4, 1.2 + 0.2 * few * hanging)

    @cached_property
    def _axis(self) -> tuple[list[Tick], list[Month]]:
        return axis((row.on for row in self.rows if not row.is_outside), self.across, self.size)
