"""When prints go to the lab, whether an order is all there, what money was typed, what is usual."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from relations.languages.digits import to_ascii

# Source: job.md row 27.
AT_LEAST, OLDEST_DAYS, LAST_DAYS = 5, 14, 7


class Why(StrEnum):
    """Why it is time for an order."""

    ENOUGH = "enough"
    OLD = "old"
    TRIP_ENDS = "trip_ends"


class Came(StrEnum):
    """What became of one line of an order; "" is: still at the lab, or not handed over."""

    COLLECTED = "collected"
    GOOD = "good"
    FAULTY = "faulty"
    LOST = "lost"
    STRUCK = "struck"


class Fault(StrEnum):
    """What a print is checked for by the window, and what was wrong."""

    PERSON = "person"
    FRAME = "frame"
    COLOUR = "colour"
    SURFACE = "surface"


class Surface(StrEnum):
    """The surface that an order asks for."""

    MATT = "matt"
    GLOSS = "gloss"


IN_HAND = frozenset({Came.COLLECTED, Came.GOOD, Came.FAULTY})


def due(waiting: Sequence[date], on: date, trip_ends: date | None) -> tuple[Why, ...]:
    """Say why prints should be ordered now; () is: they may wait for one another.

    `waiting` are the days since which each print waits; `trip_ends` the last day of the trip that
    the day lies in. At least five, or one of 14 days, or at most 7 days left (job.md row 27).
    """
    if not waiting:
        return ()
    reasons = {
        Why.ENOUGH: len(waiting) >= AT_LEAST,
        Why.OLD: (on - min(waiting)).days >= OLDEST_DAYS,
        Why.TRIP_ENDS: trip_ends is not None and 0 <= (trip_ends - on).days <= LAST_DAYS,
    }
    return tuple(why for why, holds in reasons.items() if holds)


@dataclass(frozen=True)
class Balance:
    """One order in numbers of prints: ordered + spoilt = collected + waste slip (job.md row 27).

    `ordered` leaves out struck lines. `waste` are the spoilt ones that the lab gave back with its
    slip. `lost` the lab says it cannot find, `waiting` are still there.
    """

    ordered: int
    spoilt: int
    collected: int
    waste: int
    lost: int
    waiting: int

    @property
    def made(self) -> int:
        """Everything that came out of the machine, or should have."""
        return self.ordered + self.spoilt

    @property
    def home(self) -> int:
        """Everything that is in our hands."""
        return self.collected + self.waste

    @property
    def gap(self) -> int:
        """Prints that are not in our hands; below 0 more came than were made."""
        return self.made - self.home

    @property
    def unnamed(self) -> int:
        """Those of the gap of which nobody says where they are: spoilt ones left at the lab."""
        return self.gap - self.lost - self.waiting


def balance(lines: Iterable[str], spoilt: int, waste: int) -> Balance:
    """Balance an order: `lines` say what became of each, as Came or ""."""
    rows = [line for line in lines if line != Came.STRUCK]
    return Balance(
        ordered=len(rows),
        spoilt=spoilt,
        collected=sum(line in IN_HAND for line in rows),
        waste=waste,
        lost=rows.count(Came.LOST),
        waiting=rows.count(""),
    )


class PriceError(ValueError):
    """A typed price that cannot be one.

    `code` is "price_shape", "price_thousands" or "price_fine".
    """

    def __init__(self, code: str) -> None:
        """Keep the code; the page holds the words."""
        super().__init__(code)
        self.code = code


_PLAIN = re.compile(r"\d+(?:[.,]\d*)?")
_GROUPED = re.compile(
    r"\d{1,3}(?: \d{3})+(?:[.,]\d+)?|\d{1,3}(?:,\d{3})+\.\d+|\d{1,3}(?:\.\d{3})+,\d+"
)
# A space of any width, and the Arabic marks for decimals and thousands.
_MARKS = str.maketrans({"\u00a0": " ", "\u202f": " ", "\u2009": " ", "'": " ", "’": " "}) | {
    0x066B: ",",
    0x066C: " ",
}
CENT, LARGEST_PRICE = Decimal("0.01"), Decimal(10) ** 7


def read_price(text: str, least: Decimal = Decimal(0)) -> Decimal:
    """Read a price with a point or a comma, in digits of any script, to the hundredth.

    Raises PriceError: "price_thousands" for 1,234, which is one thing here and another there;
    "price_fine" beyond hundredths; "price_shape" for anything else, below `least`, and from ten
    million on.
    """
    said = to_ascii(text).translate(_MARKS).strip()
    if re.fullmatch(r"[1-9]\d{0,2}[.,]\d{3}", said):
        raise PriceError("price_thousands")
    if not (_PLAIN.fullmatch(said) or _GROUPED.fullmatch(said)):
        raise PriceError("price_shape")
    at = max(said.rfind("."), said.rfind(","))
    whole, parts = (said, "") if at < 0 else (said[:at], said[at + 1 :])
    if len(parts.rstrip("0")) > 2:
        raise PriceError("price_fine")
    price = Decimal(f"{re.sub(r'[ .,]', '', whole)}.{parts or 0}").quantize(CENT)
    if not least <= price < LARGEST_PRICE:
        raise PriceError("price_shape")
    return price


# Common practice, no source (the order's own words): about five to eight sheets a sitter, about an
# hour a sitting, about ten Canadian dollars a colour sheet with processing. Half an hour to both
# sides of the hour is our own margin.
SHEETS, MINUTES = (5, 8), (30, 90)
SHEET_PRICE, SHEET_CURRENCY = Decimal(10), "CAD"


class Unusual(StrEnum):
    """What is out of the usual, said gently: it is never an error."""

    FEW_SHEETS = "few_sheets"
    MANY_SHEETS = "many_sheets"
    SHORT_SITTINGS = "short_sittings"
    LONG_SITTINGS = "long_sittings"


def unusual(sitters: int, sheets: int, minutes: Sequence[int]) -> tuple[Unusual, ...]:
    """Say what is out of the usual of a trip: sheets a sitter, and minutes a sitting on average.

    What is not known, as no minutes at all, is not unusual.
    """
    found = []
    if sitters and sheets:
        found += _outside(sheets / sitters, SHEETS, Unusual.FEW_SHEETS, Unusual.MANY_SHEETS)
    if minutes:
        mean = sum(minutes) / len(minutes)
        found += _outside(mean, MINUTES, Unusual.SHORT_SITTINGS, Unusual.LONG_SITTINGS)
    return tuple(found)


def _outside(value: float, usual: tuple[int, int], below: Unusual, above: Unusual) -> list[Unusual]:
    if value < usual[0]:
        return [below]
    return [above] if value > usual[1] else []


def film_cost(sitters: int) -> tuple[Decimal, Decimal]:
    """Give what film and processing cost for so many sitters, least and most, in SHEET_CURRENCY."""
    least, most = (sitters * number * SHEET_PRICE for number in SHEETS)
    return least, most
