"""A drawing written as SVG: by attributes alone, so that the strictest page may hold it."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from html import escape

from .geometry import NOBODY_S, SMALL, Growth, Size, Spot, Tick

# The outlines of the groups for a mark of radius 6: circle, square, triangle, diamond, hexagon,
# and a triangle on its point for whoever is in none. Told apart without any colour.
OUTLINES = (
    '<circle r="6"/>',
    '<path d="M-5.4-5.4H5.4V5.4H-5.4z"/>',
    '<path d="M0-7L6.6 4.8H-6.6z"/>',
    '<path d="M0-7.4L7.4 0 0 7.4-7.4 0z"/>',
    '<path d="M-6.8 0L-3.4-5.8H3.4L6.8 0 3.4 5.8H-3.4z"/>',
    '<path d="M0 7L6.6-4.8H-6.6z"/>',
)
RING = 10.4  # the radius of the ring round a mark of radius 6
# Somebody outside is a label and no mark: a bar where their trunk begins. A bar that stands across
# the way in: told of by somebody who is withheld. A dashed stroke: by others too.
OUTSIDE, WITHHELD, TICKED = "o", "w", "t"
SIGNS = {
    OUTSIDE: '<path d="M-6 0H6"/>',
    WITHHELD: '<path d="M-21-6V6M-17-6V6M-17 0H-6" fill="none"/>',
    TICKED: '<path d="M-18-9L-7-3" stroke-dasharray="3 2" fill="none"/>',
}
STRIP = 20  # the height of the bars of the months


def _year(tick: Tick) -> str:
    """The number of a year; nothing at a quarter."""
    return str(tick.on.year) if tick.is_year else ""


@dataclass(frozen=True)
class Said:
    """The words of a drawing, all of them: it holds no other.

    `names` are what each mark is called aloud, by code; a mark that has one is a link to `#p` and
    its code, and takes focus. `lines` are two short words at the left of each line, by the code of
    its beginning, where the size keeps room for them. `strip` says what the bars over the axis
    count, `heads` are two short words over each column, `ticks` gives the words at the first day
    of a year or a quarter.
    """

    title: str
    desc: str
    names: Mapping[str, str] = field(default_factory=dict)
    lines: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    strip: str = ""
    ticks: Callable[[Tick], str] = _year
    heads: Sequence[tuple[str, str]] = ()


@dataclass(frozen=True)
class Ink:
    """How it is coloured: `line` for lines and letters, `paper` what hides a line behind a mark.

    `pale` is how the lines of the axis are drawn, `opening` are attributes of the whole, such as a
    class. `mark` begins every id.
    """

    line: str = "#17191c"
    paper: str = 'fill="#fff"'
    pale: str = 'stroke="#d0cec7"'
    opening: str = 'xmlns="http://www.w3.org/2000/svg"'
    mark: str = "g"


PAGE = Ink(
    "currentColor", 'class="knock"', 'stroke="currentColor" stroke-opacity=".22"', 'class="growth"'
)
FILE = Ink()


def write(growth: Growth, said: Said, ink: Ink = FILE, *, with_words: bool = True) -> str:
    """Write a drawing; without words where a paper sets them over it as text of its own.

    What is fluid takes its places across in per cent and fits any width from the least on; in all
    else a unit is one pixel. Every word is escaped.
    """
    return "".join(_Writer(growth, said, ink, with_words).parts())


def mark(shape: int, *, has_sat: bool, has_print: bool, ink: Ink = FILE, scale: float = 1) -> str:
    """One mark round the point 0 0: outline of the group, filled once sat, ringed with a print."""
    ring = f'<circle r="{RING}" stroke-width="1.2"/>' if has_print else ""
    outline = OUTLINES[shape]
    if has_sat:
        outline = outline.replace("/>", f' fill="{ink.line}"/>')
    sized = f' transform="scale({scale:.3g})"' if scale != 1 else ""
    return f'<g {ink.paper} stroke="{ink.line}" stroke-width="1.6"{sized}>{ring}{outline}</g>'


def _number(value: float) -> str:
    return f"{value:.5g}"


class _Writer:
    """One drawing while it is written."""

    def __init__(self, growth: Growth, said: Said, ink: Ink, with_words: bool) -> None:
        self.growth, self.said, self.ink, self.with_words = growth, said, ink, with_words
        self.size: Size = growth.size
        self.share = 100 / growth.width

    def across(self, x: float) -> str:
        """A place or a length from left to right."""
        return f"{x * self.share:.4g}%" if self.size.is_fluid else f"{x:.5g}"

    def parts(self) -> Iterator[str]:
        """The whole, piece by piece."""
        growth, said, ink = self.growth, self.said, self.ink
        is_wider = growth.width > self.size.width or not self.size.is_fluid
        wide = _number(growth.width) if is_wider else "100%"
        box = "" if self.size.is_fluid else f' viewBox="0 0 {wide} {_number(growth.height)}"'
        named = f'aria-labelledby="{ink.mark}-t" aria-describedby="{ink.mark}-d"'
        yield (
            f'<svg {ink.opening} width="{wide}" height="{_number(growth.height)}"{box} role="group"'
            f' {named} direction="ltr" font-size="{_number(self.size.type)}" fill="{ink.line}">'
            f'<title id="{ink.mark}-t">{escape(said.title)}</title>'
            f'<desc id="{ink.mark}-d">{escape(said.desc)}</desc><defs>'
        )
        yield from self._defs()
        yield f"</defs><g {ink.pale}>"
        yield from self._axis_lines()
        yield f'</g><g fill-opacity=".25">{"".join(self._strip())}</g>'
        if self.with_words:
            yield from self._axis_words()
        yield f'<g stroke="{ink.line}" fill="none">'
        yield from self._lines()
        yield from self._trunks()
        yield from self._curves()
        yield "</g>"
        for spot in growth.spots:
            yield self._spot(spot)
        yield "</svg>"

    def _defs(self) -> Iterator[str]:
        """Each mark that is needed, once; a clear disc round it can be touched (24 px)."""
        scale, ink = self.size.mark / 6, self.ink
        sized = f' transform="scale({scale:.3g})"' if scale != 1 else ""
        seen = {(s.shape, s.has_sat, s.has_print) for s in self.growth.spots if s.shape >= 0}
        for shape, has_sat, has_print in sorted(seen):
            drawn = mark(shape, has_sat=has_sat, has_print=has_print, ink=ink, scale=scale)
            touch = '<circle r="12" fill="none" pointer-events="all"/>' if self.said.names else ""
            yield f'<g id="{ink.mark}{_key(shape, has_sat, has_print)}">{touch}{drawn}</g>'
        for key, sign in SIGNS.items():
            stroke = f'stroke="{ink.line}" stroke-width="1.4"'
            yield f'<g id="{ink.mark}{key}" {stroke}{sized}>{sign}</g>'

    def _axis_lines(self) -> Iterator[str]:
        bottom = _number(self.growth.bottom)
        for tick in self.growth.ticks:
            x = self.across(tick.x)
            thin = "" if tick.is_year else ' stroke-width=".5"'
            yield f'<line x1="{x}" x2="{x}" y1="18" y2="{bottom}"{thin}/>'

    def _axis_words(self) -> Iterator[str]:
        for tick in self.growth.ticks:
            if tick.is_said and (words := self.said.ticks(tick)):
                heavy = ' font-weight="600"' if tick.is_year else ""
                place = f'x="{self.across(tick.x)}" y="13" text-anchor="middle"'
                yield f"<text {place}{heavy}>{escape(words)}</text>"
        for x, (words, more) in zip(self.growth.columns, self.said.heads, strict=True):
            left = x - self.size.mark
            yield f'<text x="{_number(left)}" y="13" font-weight="600">{escape(words)}</text>'
            yield self._small(left, 13 + self.size.type, more)
        if self.said.strip:
            yield self._small(8, self.size.top - 10, self.said.strip)

    def _strip(self) -> Iterator[str]:
        """A bar for each month in which somebody was reached, on one scale."""
        base = self.size.top - 8
        most = max((month.count for month in self.growth.months), default=0)
        for month in self.growth.months:
            high = month.count / most * STRIP
            x, wide = self.across(month.x), self.across(month.width * 0.9)
            y, tall = _number(base - high), _number(high)
            yield f'<rect x="{x}" width="{wide}" y="{y}" height="{tall}"/>'

    def _lines(self) -> Iterator[str]:
        """What each line is called, at the left, where there is room kept for it."""
        for line in self.growth.lines:
            if said := self.said.lines.get(line.root):
                yield f'<path d="M4 {_number(line.top + 2)}V{_number(line.bottom - 2)}"/>'
                if self.with_words:
                    y = line.top + self.size.row / 2 + self.size.type * 0.35
                    yield f'<g fill="{self.ink.line}" stroke="none">'
                    yield f'<text x="10" y="{_number(y)}">{escape(said[0])}</text>'
                    yield f"{self._small(10, y + self.size.type, said[1])}</g>"

    def _trunks(self) -> Iterator[str]:
        """Trunks and twigs; where pixels are sure, a twig may leave its trunk in a bend."""
        bend = self.size.bend
        for trunk in self.growth.trunks:
            x, bottom = self.across(trunk.x), trunk.bottom if trunk.is_open else trunk.bottom - bend
            yield (
                f'<line x1="{x}" x2="{x}" y1="{_number(trunk.top)}" y2="{_number(bottom)}"'
                f' stroke-width="{_number(trunk.thick)}"/>'
            )
        yield f'<g stroke-width="{1.2 if self.size.mark > 3 else 0.6}">'
        for twig in self.growth.twigs:
            start, end, y = self.across(twig.start), self.across(twig.end), _number(twig.y)
            if bend:
                near = min(bend, twig.end - twig.start)
                yield (
                    f'<path d="M{start} {_number(twig.y - bend)}Q{start} {y}'
                    f' {_number(twig.start + near)} {y}H{end}"/>'
                )
            else:
                yield f'<line x1="{start}" x2="{end}" y1="{y}" y2="{y}"/>'
        yield "</g>"

    def _curves(self) -> Iterator[str]:
        """Who else told of whom, each in a box of its own that stretches with the page."""
        for curve in self.growth.curves:
            left, top = min(curve.start, curve.end), min(curve.top, curve.bottom)
            wide, tall = abs(curve.end - curve.start) or 1, abs(curve.bottom - curve.top) or 1
            down = (curve.bottom - curve.top) * (curve.end - curve.start) >= 0
            path = "M0 0C0 60 40 100 100 100" if down else "M0 100C0 40 40 0 100 0"
            dashes = "1.5 3" if curve.is_later else "6 3"
            yield (
                f'<svg x="{self.across(left)}" y="{_number(top)}" width="{self.across(wide)}"'
                f' height="{_number(tall)}" viewBox="0 0 100 100" preserveAspectRatio="none"'
                f' overflow="visible"><path d="{path}" vector-effect="non-scaling-stroke"'
                f' stroke-width="1.4" stroke-dasharray="{dashes}"/></svg>'
            )

    def _spot(self, spot: Spot) -> str:
        x, y = self.across(spot.x), _number(spot.y)
        keys = [_key(spot.shape, spot.has_sat, spot.has_print) if spot.shape >= 0 else OUTSIDE]
        if spot.is_withheld:
            keys.append(WITHHELD)
        if spot.is_ticked:
            keys.append(TICKED)
        inner = "".join(f'<use href="#{self.ink.mark}{key}" x="{x}" y="{y}"/>' for key in keys)
        note = ""
        if self.with_words and spot.label:
            inner += self._label(spot, x)
            note = self._note(spot, x)
        name = self.said.names.get(spot.code)
        if name is not None:
            # Who hears a link must hear what is written in it; the note stands beside it.
            inner = f'<a href="#p{escape(spot.code)}" aria-label="{escape(name)}">{inner}</a>'
        return inner + note

    def _label(self, spot: Spot, x: str) -> str:
        y = _number(spot.y + self.size.type * 0.35)
        heavy = ' font-weight="700"' if spot.is_bold else ""
        off = _number(spot.label_x - spot.x)
        return f'<text x="{x}" dx="{off}" y="{y}"{heavy}>{escape(spot.label)}</text>'

    def _note(self, spot: Spot, x: str) -> str:
        if not spot.note:
            return ""
        y, small = _number(spot.y + self.size.type * 0.35), _number(self.size.type * SMALL)
        off = _number(spot.note_x - spot.x)
        return (
            f'<text x="{x}" dx="{off}" y="{y}" font-size="{small}" fill-opacity=".75">'
            f"{escape(spot.note)}</text>"
        )

    def _small(self, x: float, y: float, words: str) -> str:
        small = _number(self.size.type * SMALL)
        return (
            f'<text x="{_number(x)}" y="{_number(y)}" font-size="{small}" fill-opacity=".75">'
            f"{escape(words)}</text>"
        )


def _key(shape: int, has_sat: bool, has_print: bool) -> str:
    """The id of a mark: a number below 24."""
    return str(shape + (NOBODY_S + 1) * (has_sat + 2 * has_print))
