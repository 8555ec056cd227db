"""Contacts of a telephone, line by line: what would be taken of each, and what cannot be."""

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from relations.languages.sorting import fold

from . import contacts_cards as cards
from . import phones
from .contacts_tables import Table, has_head

# More numbers than anybody has, and more people than anybody asks at one sitting.
MOST_NUMBERS, MOST_AT_ONCE = 8, 20
LONGEST_NUMBER, MOST_FIGURES = 80, 45
_WORDS = {
    "called": r"\b(?:full|display|formatted|first|given)?[ _-]*name\b|\bnom\b|prénom|اسم|नाम",
    "numbers": r"phone|mobile|cell\b|\btel|téléphone|portable|numéro|هاتف|جوال|رقم|फोन|मोबाइल",
}


@dataclass(frozen=True)
class Mapped:
    """Which column is what, by place; `note` is None where no note is taken.

    `has_head`: the first row only names the columns.
    """

    called: int
    numbers: tuple[int, ...] = ()
    note: int | None = None
    has_head: bool = False


@dataclass(frozen=True)
class Entry:
    """What one line would give: what to call somebody, the numbers as they stand, the note."""

    called: str
    numbers: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class Line:
    """An entry, looked at: what its numbers were read as, and why it cannot be taken.

    `refused`: no_name, many_numbers, twice (the same name and numbers stand above), or "".
    """

    entry: Entry
    readings: tuple[phones.Reading, ...] = ()
    refused: str = ""

    @property
    def e164(self) -> frozenset[str]:
        """The numbers that could be read."""
        return frozenset(one.e164 for one in self.readings if one.e164)


def proposed(table: Table) -> Mapped:
    """Which column is most likely what; a note is never proposed. To be looked at by a person."""
    if table.is_cards:
        names = (cards.CALLED, cards.GIVEN, cards.NICKNAME)
        called = next((at for at, key in enumerate(table.columns) if key in names), 0)
        return Mapped(called, _places(table, lambda at: table.columns[at] == cards.NUMBER))
    called_by = re.compile(_WORDS["called"], re.IGNORECASE)
    number_by = re.compile(_WORDS["numbers"], re.IGNORECASE)
    named = _places(table, lambda at: bool(called_by.search(table.columns[at])))
    numbers = _places(
        table,
        lambda at: bool(number_by.search(table.columns[at])) or _is_mostly_numbers(table, at),
    )
    others = _places(table, lambda at: at not in numbers)
    called = next((at for at in (*named, *others) if at not in numbers), 0)
    kept = tuple(at for at in numbers if at != called and _digits(table, at))
    return Mapped(called, kept, has_head=has_head(table.rows[0]))


def _places(table: Table, wanted: Callable[[int], bool]) -> tuple[int, ...]:
    return tuple(at for at in range(len(table.columns)) if wanted(at))


def _digits(table: Table, at: int) -> bool:
    return any(char.isdigit() for row in table.rows for char in row[at])


def _is_mostly_numbers(table: Table, at: int) -> bool:
    """Whether more than half of what stands in a column could be dialled."""
    said = [row[at] for row in table.rows if row[at]]
    like = [one for one in said if sum(map(str.isdigit, one)) > max(5, len(one) // 2)]
    return 2 * len(like) > len(said)


def entries(table: Table, mapped: Mapped) -> list[Entry]:
    """Each row as it was mapped, the head left out; what is not mapped is not in them."""
    return [
        Entry(
            called=cards.one_line(row[mapped.called]),
            numbers=tuple(dict.fromkeys(_numbers(row[at] for at in mapped.numbers))),
            note="" if mapped.note is None else cards.one_line(row[mapped.note]),
        )
        for row in table.rows[mapped.has_head :]
    ]


def _numbers(cells: Iterable[str]) -> Iterable[str]:
    for cell in cells:
        yield from (one.strip() for one in cell.split("\n") if one.strip())


def look(found: Sequence[Entry], country: str | None) -> list[Line]:
    """Each entry with its numbers read as in `country` (ISO 3166-1 alpha-2), in the order given.

    A cell that holds two numbers is parted into them. Nothing is compared with the register.
    """
    looked: list[Line] = []
    seen: set[tuple[str, frozenset[str]]] = set()
    for entry in found:
        readings = _readings(entry.numbers, country)
        numbers = tuple(one.kept_raw for one in readings) or entry.numbers
        line = Line(Entry(entry.called, numbers, entry.note), readings)
        key = (fold(entry.called), line.e164 or frozenset(numbers))
        refused = "" if entry.called else "no_name"
        if len(numbers) > MOST_NUMBERS:
            refused = "many_numbers"
        elif not refused and key in seen:
            refused = "twice"
        seen.add(key)
        looked.append(Line(line.entry, readings, refused))
    return looked


def _readings(numbers: Sequence[str], country: str | None) -> tuple[phones.Reading, ...]:
    """What each number was read as; () where there are more than anybody has."""
    found: dict[str, phones.Reading] = {}
    if len(numbers) <= MOST_NUMBERS:
        for one in numbers:
            whole = _read(one, country)
            for part in whole.parts or (one,):
                found[part] = _read(part, country) if whole.parts else whole
    return tuple(found.values())


def _read(typed: str, country: str | None) -> phones.Reading:
    """A number read, unless it has more figures than three numbers could have (E.164: 15)."""
    if len(typed) > LONGEST_NUMBER or sum(map(str.isdigit, typed)) > MOST_FIGURES:
        return phones.Reading(typed, problem="too_long")
    return phones.read(typed, country)
