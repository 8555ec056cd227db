"""How slips lie on an A4 sheet: on labels as they are sold, or on plain paper to be cut apart.

All lengths are millimetres, exact, counted from the left upper corner of the sheet.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Generic, TypeVar

# ISO 216.
A4 = (Decimal(210), Decimal(297))
Slip = TypeVar("Slip")


class Labels(StrEnum):
    """What the slips are printed on."""

    PLAIN = "plain"
    OF_24 = "24"
    OF_21 = "21"


@dataclass(frozen=True)
class Sheet:
    """Labels of one size in columns and rows, in the middle of the sheet.

    `gap` lies between two columns; rows follow one another without. `is_cut`: lines are drawn
    along which the slips are cut apart.
    """

    columns: int
    rows: int
    width: Decimal
    height: Decimal
    gap: Decimal = Decimal(0)
    is_cut: bool = False

    @property
    def count(self) -> int:
        """How many labels are on it."""
        return self.columns * self.rows

    @property
    def corner(self) -> tuple[Decimal, Decimal]:
        """Where the first label begins: its distance from the left and the upper edge."""
        wide = self.columns * self.width + (self.columns - 1) * self.gap
        return (A4[0] - wide) / 2, (A4[1] - self.rows * self.height) / 2


# The sizes of two sheets of labels that every shop has. Common practice, no source.
SHEETS: Mapping[Labels, Sheet] = {
    Labels.PLAIN: Sheet(3, 7, Decimal("63.5"), Decimal("38.1"), Decimal("2.5"), is_cut=True),
    Labels.OF_24: Sheet(3, 8, Decimal(70), Decimal(37)),
    Labels.OF_21: Sheet(3, 7, Decimal("63.5"), Decimal("38.1"), Decimal("2.5")),
}


@dataclass(frozen=True)
class Placed(Generic[Slip]):
    """One slip and where its left upper corner lies."""

    slip: Slip
    left: Decimal
    top: Decimal


def laid(slips: Sequence[Slip], sheet: Sheet, first: int = 1) -> list[list[Placed[Slip]]]:
    """Lay slips on as many sheets as they take, row by row; the slips of each sheet.

    `first`, counted from 1, is the first label that is still there on the first sheet; ValueError
    where the sheet has no such label.
    """
    if not 1 <= first <= sheet.count:
        raise ValueError(first)
    found: list[list[Placed[Slip]]] = []
    for number, slip in enumerate(slips, start=first - 1):
        at = number % sheet.count
        if at == 0 or not found:
            found.append([])
        left, top = sheet.corner
        row, column = divmod(at, sheet.columns)
        left += column * (sheet.width + sheet.gap)
        found[-1].append(Placed(slip, left, top + row * sheet.height))
    return found
