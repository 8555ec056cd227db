"""What one share drawing says: rows of blocks, as plain values that can be kept."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any


@dataclass(frozen=True, slots=True)
class Block:
    """So many people, reached from one half-year to another, both included."""

    first: int
    last: int
    count: int


@dataclass(frozen=True, slots=True)
class Row:
    """The blocks of a group, without a gap between them; of several where one alone was small.

    `since` is the half-year from which on a group that was joined before stands alone, else 0.
    """

    groups: tuple[str, ...]
    blocks: tuple[Block, ...] = ()
    since: int = 0

    @property
    def total(self) -> int:
        """How many people it says."""
        return sum(block.count for block in self.blocks)

    @property
    def is_joined(self) -> bool:
        """Whether it stands for several groups, which are then not named."""
        return len(self.groups) > 1

    @property
    def name(self) -> tuple[str, int]:
        """What stays the same as it grows: groups are only ever added at the end."""
        return self.groups[0], self.since


@dataclass(frozen=True, slots=True)
class Said:
    """All that one drawing says.

    `about` is a number of people rounded down to a multiple of five, where nothing else is said.
    `within` and `across` count who was first told of by somebody of their own group and of
    another one, both rounded down too, so that nothing follows from them and the rest.
    """

    rows: tuple[Row, ...] = ()
    about: int = 0
    within: int = 0
    across: int = 0

    @property
    def people(self) -> int:
        """How many people the blocks say together."""
        return sum(row.total for row in self.rows)


NOTHING = Said()


def half_year(on: date) -> int:
    """Number a half-year: twice the year, and one more from July on."""
    return 2 * on.year + (on.month > 6)


def first_day(half: int) -> date:
    """Give the first day of a half-year."""
    return date(half // 2, 7 if half % 2 else 1, 1)


def as_json(said: Said) -> dict[str, Any]:
    """Give what was said as plain values, to be kept."""
    rows = [
        {
            "groups": list(row.groups),
            "since": row.since,
            "blocks": [[block.first, block.last, block.count] for block in row.blocks],
        }
        for row in said.rows
    ]
    return {"rows": rows, "about": said.about, "within": said.within, "across": said.across}


def from_json(kept: Mapping[str, Any]) -> Said:
    """Read what `as_json` gave."""
    rows = tuple(
        Row(
            tuple(row["groups"]),
            tuple(Block(*block) for block in row["blocks"]),
            row["since"],
        )
        for row in kept["rows"]
    )
    return Said(rows, kept["about"], kept["within"], kept["across"])
