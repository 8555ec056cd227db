"""The share drawing: a bar for each block, so that its area is its number of people.

It is laid out of nothing but what is said, so that no place on it can tell more than its words do.
All lengths are CSS pixels from the upper left corner.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

from relations.languages.direction import isolated, runs

from .said import Row, Said

INK, SOFT, PALE = "#17191c", "#54585e", "#c9c9c2"
# Far apart also to who sees few colours, and in grey; the words beside each row tell it anyway.
# Source: introductions.md 3.
COLOURS = ("#253E0C", "#5D7CE9", "#802569", "#F65D7F", "#5F7019")
WIDTH, MARGIN = 1000, 14
TOP, ROW, LINE = 62, 70, 19  # down to the first row, of a row, and of a line of words
BAR = 46  # the height of the highest bar
NARROW = 30  # of a half-year, under which only years are named
SCANT = 44  # of a year, under which only some of them are


@dataclass(frozen=True, slots=True)
class Words:
    """The words of a drawing: `rows` has a name and a line under it for each row that is drawn.

    `number` writes a count or a year in the figures of whoever reads the page.
    """

    rows: Sequence[tuple[str, str]]
    second_half: str
    foot: Sequence[str]
    number: Callable[[int], str] = str


@dataclass(frozen=True, slots=True)
class Text:
    """Words whose baseline begins at `x`, `y`, or has its middle there."""

    x: float
    y: float
    size: int
    words: str
    is_middle: bool = False
    is_bold: bool = False
    is_soft: bool = False

    @property
    def colour(self) -> str:
        """The colour of the letters."""
        return SOFT if self.is_soft else INK


@dataclass(frozen=True, slots=True)
class Bar:
    """One block."""

    x: float
    y: float
    width: float
    height: float
    colour: str


@dataclass(frozen=True, slots=True)
class Rule:
    """A straight line."""

    x1: float
    y1: float
    x2: float
    y2: float
    is_strong: bool = False


@dataclass(frozen=True)
class Picture:
    """The whole drawing."""

    width: float
    height: float
    rules: tuple[Rule, ...]
    bars: tuple[Bar, ...]
    texts: tuple[Text, ...]


@dataclass(frozen=True, slots=True)
class Scale:
    """Where a half-year stands: `left` of the first, and how wide one is."""

    first: int
    last: int
    left: float
    half: float

    def x(self, half: int) -> float:
        """The left side of a half-year."""
        return self.left + (half - self.first) * self.half


def drawn(said: Said) -> list[Row]:
    """List the rows of which something is to be seen."""
    return [row for row in said.rows if row.total]


def lay(said: Said, words: Words) -> Picture:
    """Put what is said in its place; without any block there are the words of the foot alone."""
    rows = drawn(said)
    foot = TOP + ROW * len(rows) + 2 * LINE if rows else 2 * LINE
    below = [
        Text(MARGIN, foot + LINE * at, 13, line, is_soft=at > 0, is_bold=not rows and not at)
        for at, line in enumerate(words.foot)
    ]
    height = foot + LINE * len(words.foot)
    if not rows:
        return Picture(WIDTH, height, (), (), tuple(below))
    scale = _scale(rows, words)
    most = max(_depth(row) for row in rows)
    bars: list[Bar] = []
    rules, texts = _axis(scale, foot - 2 * LINE, words)
    for at, (row, (name, note)) in enumerate(zip(rows, words.rows, strict=True)):
        y = TOP + ROW * at + BAR + 16
        rules.append(Rule(scale.left, y, scale.x(scale.last + 1), y))
        look = (SOFT if row.is_joined else COLOURS[at % len(COLOURS)], words.number)
        texts += [Text(MARGIN, y - 12, 15, name), Text(MARGIN, y + 5, 13, note, is_soft=True)]
        for bar, text in _bars(row, scale, y, BAR / most, look):
            bars.append(bar)
            texts.append(text)
    return Picture(WIDTH, height, tuple(rules), tuple(bars), (*texts, *below))


def _scale(rows: Sequence[Row], words: Words) -> Scale:
    """Leave room for the longest name, but not for more than a third of the width."""
    first = min(block.first for row in rows for block in row.blocks if block.count)
    last = max(block.last for row in rows for block in row.blocks if block.count)
    longest = max(len(name) * 8.5 for name, _ in words.rows)
    noted = max(len(note) * 7 for _, note in words.rows)
    left = min(max(longest, noted, 110), WIDTH / 3) + 2 * MARGIN
    return Scale(first, last, left, (WIDTH - MARGIN - left) / (last - first + 1))


def _depth(row: Row) -> float:
    """Of the densest block of a row: people a half-year."""
    return max(block.count / (block.last - block.first + 1) for block in row.blocks)


def _axis(scale: Scale, bottom: float, words: Words) -> tuple[list[Rule], list[Text]]:
    """A line at each half-year, the years named, and each July where there is room."""
    rules, texts = [], []
    every = 1 + int(SCANT / (2 * scale.half))
    for half in range(scale.first, scale.last + 1):
        x, (year, is_second) = scale.x(half), divmod(half, 2)
        rules.append(Rule(x, TOP - 16, x, bottom, is_strong=not is_second))
        is_said = scale.half >= NARROW if is_second else year % every == 0
        if is_said:
            name = words.second_half if is_second else words.number(year)
            texts.append(
                Text(x + 4, TOP - 22, 13, name, is_bold=not is_second, is_soft=bool(is_second))
            )
    return rules, texts


def _bars(
    row: Row, scale: Scale, y: float, unit: float, look: tuple[str, Callable[[int], str]]
) -> Iterable[tuple[Bar, Text]]:
    """The bars of a row that stands at `y`; `unit` is the height of one person a half-year.

    `look` is their colour, and what writes their numbers.
    """
    colour, number = look
    for block in row.blocks:
        if block.count:
            x, end = scale.x(block.first), scale.x(block.last + 1)
            height = block.count / (block.last - block.first + 1) * unit
            middle = Text((x + end) / 2, y - height - 4, 13, number(block.count), is_middle=True)
            yield Bar(x + 1.5, y - height, end - x - 3, height, colour), middle


def marks(picture: Picture) -> str:
    """Write bars and lines as elements of SVG."""
    rules = (
        f'<path d="M{rule.x1:.1f} {rule.y1:.1f}L{rule.x2:.1f} {rule.y2:.1f}" stroke="{PALE}"'
        f' stroke-width="{1.4 if rule.is_strong else 0.7}"/>'
        for rule in picture.rules
    )
    bars = (
        f'<rect x="{bar.x:.1f}" y="{bar.y:.1f}" width="{bar.width:.1f}"'
        f' height="{bar.height:.1f}" fill="{bar.colour}"/>'
        for bar in picture.bars
    )
    return "\n".join((*rules, *bars))


def svg(picture: Picture, opening: str = "") -> str:
    """Write a file of its own: marks and words, and nothing else that could say more.

    With an `opening`, attributes of the whole, it is a part of a page and as wide as there is room.
    """
    texts = "\n".join(map(_written, picture.texts))
    wide, high = f"{picture.width:.0f}", f"{picture.height:.0f}"
    size = f'width="{wide}" height="{high}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {opening or size}'
        f' viewBox="0 0 {wide} {high}" direction="ltr" font-family="sans-serif">\n'
        f'<path d="M0 0H{wide}V{high}H0Z" fill="#ffffff"/>\n{marks(picture)}\n{texts}\n</svg>\n'
    )


def _written(text: Text) -> str:
    weight = ' font-weight="bold"' if text.is_bold else ""
    # Of a number, white round it: it may stand on a line of the axis.
    anchor = ' text-anchor="middle" stroke="#ffffff" stroke-width="4" paint-order="stroke"'
    # The drawing runs from left to right: other words would leave their full stop behind.
    words = isolated(text.words, "rtl") if runs(text.words) == "rtl" else text.words
    return (
        f'<text x="{text.x:.1f}" y="{text.y:.1f}" font-size="{text.size}" fill="{text.colour}"'
        f"{weight}{anchor if text.is_middle else ''}>{escape(words)}</text>"
    )


@dataclass(frozen=True, slots=True)
class Placed:
    """Words as a box of text on paper, in CSS pixels as they are written."""

    words: str
    left: str
    top: str
    width: str
    size: str
    colour: str
    is_middle: bool
    is_bold: bool


def placed(text: Text, scale: float) -> Placed:
    """Put words over marks that were drawn to scale, in a line as high as its letters.

    What has its middle there stands in a box of 160 px round it; the rest runs on to the edge.
    """
    width = 160.0 if text.is_middle else WIDTH - text.x
    left = text.x - width / 2 if text.is_middle else text.x
    return Placed(
        text.words,
        left=f"{left * scale:.2f}",
        top=f"{(text.y - 0.85 * text.size) * scale:.2f}",
        width=f"{width * scale:.2f}",
        size=f"{text.size * scale:.2f}",
        colour=text.colour,
        is_middle=text.is_middle,
        is_bold=text.is_bold,
    )
