"""Sizes of prints, exactly: inches and millimetres, one shape on another, and what is cut off."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from relations.languages.digits import to_ascii

# Source: checks.md 6 (the international inch of 1959, from memory): exact, not rounded.
MM_PER_INCH = Fraction(254, 10)
MM_PER_CM = Fraction(10)
# Smaller is a stamp, larger no lab roll takes; common practice, no source.
SMALLEST_MM, LARGEST_MM = Fraction(20), Fraction(3000)
# ISO 216: the sides of A0 in whole millimetres.
A0_MM = (841, 1189)
SMALLEST_A = 10

_UNITS: dict[str, Fraction] = {
    **dict.fromkeys(("in", "inch", "inches", "po", "pouce", "pouces", '"', "''"), MM_PER_INCH),
    "cm": MM_PER_CM,
    "mm": Fraction(1),
}
_SIDE = r"(\d+(?:[.,]\d+)?)(?:\s+(\d+)/(\d+))?"
_UNIT = r"(inches|inch|in|pouces|pouce|po|cm|mm|\"|'')"
_TYPED = re.compile(rf"{_SIDE}\s*{_UNIT}?\s*[x*]\s*{_SIDE}\s*{_UNIT}?\.?")
_SHEET = re.compile(r"a\s*(\d{1,2})")
# Every way in which people and telephones write them.
_SIGNS = str.maketrans({"×": "x", "″": '"', "”": '"', "“": '"', "′": "'", "’": "'"})


class SizeError(ValueError):
    """A typed size that cannot be one; `code` is "size_shape", "size_unit" or "size_range"."""

    def __init__(self, code: str) -> None:
        """Keep the code; the page holds the words."""
        super().__init__(code)
        self.code = code


@dataclass(frozen=True)
class Size:
    """Two sides in millimetres, exact: across first, then up."""

    width: Fraction
    height: Fraction

    @property
    def inches(self) -> tuple[Fraction, Fraction]:
        """Both sides in inches, exact: 1 in = 25.4 mm."""
        return self.width / MM_PER_INCH, self.height / MM_PER_INCH

    @property
    def is_wide(self) -> bool:
        """Whether it lies on its longer side."""
        return self.width > self.height

    @property
    def turned(self) -> "Size":
        """The same on its other side."""
        return Size(self.height, self.width)


def in_inches(width: Fraction | int | str, height: Fraction | int | str) -> Size:
    """Give the size of so many inches by so many."""
    return Size(Fraction(width) * MM_PER_INCH, Fraction(height) * MM_PER_INCH)


def in_mm(width: Fraction | int | str, height: Fraction | int | str) -> Size:
    """Give the size of so many millimetres by so many."""
    return Size(Fraction(width), Fraction(height))


def iso_a(number: int) -> Size:
    """Give the A size of a number from 0 to 10, upright.

    Each is half of the one before, its longer side halved and rounded down to whole millimetres.
    Source: ISO 216 (values in checks.md 6). Raises ValueError for any other number.
    """
    if not 0 <= number <= SMALLEST_A:
        raise ValueError(number)
    width, height = A0_MM
    for _ in range(number):
        width, height = height // 2, width
    return in_mm(width, height)


def read(text: str) -> Size:
    """Read a size as people type it: 8x10 in, 8 1/2 × 11″, 20,3 x 25,4 cm, 203 × 254 mm, A4.

    Digits of any script. Inches and centimetres are never guessed. Raises SizeError: "size_shape"
    where it is no size, "size_unit" where no unit or two are said, "size_range" under 20 mm or
    over 3 m a side.
    """
    said = to_ascii(text).translate(_SIGNS).casefold().strip()
    if sheet := _SHEET.fullmatch(said):
        if int(sheet[1]) > SMALLEST_A:
            raise SizeError("size_shape")
        return _within(iso_a(int(sheet[1])))
    found = _TYPED.fullmatch(said)
    if found is None:
        raise SizeError("size_shape")
    units = {_UNITS[unit] for unit in (found[4], found[8]) if unit}
    if len(units) != 1:
        raise SizeError("size_unit")
    (unit,) = units
    sides = (_number(*found.groups()[at : at + 3]) * unit for at in (0, 4))
    return _within(Size(*sides))


def _number(whole: str, above: str | None, below: str | None) -> Fraction:
    """One side as it stands: 8, 8.5, 8,5 or 8 1/2."""
    number = Fraction(whole.replace(",", "."))
    if above is None or below is None:
        return number
    if int(below) == 0:
        raise SizeError("size_shape")
    return number + Fraction(int(above), int(below))


def _within(size: Size) -> Size:
    if not all(SMALLEST_MM <= side <= LARGEST_MM for side in (size.width, size.height)):
        raise SizeError("size_range")
    return size


@dataclass(frozen=True)
class Fit:
    """How a frame fills a paper: how far each side would grow, and what is cut off so that it does.

    `across` and `up` are the two scales that would bring side to side; the larger one is taken,
    so that no white is left. `cut_across` and `cut_up` are the shares of the frame that fall off.
    """

    across: Fraction
    up: Fraction

    @property
    def scale(self) -> Fraction:
        """How many times longer a line of the frame is on the paper."""
        return max(self.across, self.up)

    @property
    def is_same_shape(self) -> bool:
        """Whether nothing has to be cut off."""
        return self.across == self.up

    @property
    def cut_across(self) -> Fraction:
        """The share of the frame's width that does not come onto the paper, 0 to 1."""
        return 1 - self.across / self.scale

    @property
    def cut_up(self) -> Fraction:
        """The share of the frame's height that does not come onto the paper, 0 to 1."""
        return 1 - self.up / self.scale


def fit(frame: Size, paper: Size) -> Fit:
    """Lay a frame on a paper, longer side along longer side."""
    if frame.is_wide != paper.is_wide and paper.width != paper.height:
        frame = frame.turned
    return Fit(paper.width / frame.width, paper.height / frame.height)


# The film of the view camera; the exposed area is a little smaller.
FILM = in_inches(4, 5)


def written(size: Size, figures: Callable[[Fraction], str]) -> tuple[str, str]:
    """Write a size in inches and in millimetres; `figures` writes one side."""
    across, up = size.inches
    return f"{figures(across)} × {figures(up)}", f"{figures(size.width)} × {figures(size.height)}"
