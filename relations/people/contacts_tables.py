"""A file of contacts as a table, whatever it was written as: vCard or CSV, in which letters.

Nothing of it is kept: a table lives while a page is made, or sealed in the page itself.
"""

import csv
import re
from dataclasses import dataclass

from . import contacts_cards as cards
from .contacts_cards import NotRead

MOST_BYTES = 1024 * 1024
MOST_LINES, MOST_COLUMNS = 500, 80
# Signs of a cell, and of a whole table: what no page could show is not carried about.
LONGEST, MOST_SIGNS = 500, 150_000
SEPARATORS = (",", ";", "\t")
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")
_DIGITS = re.compile(r"(?:\d\D{0,3}){6}")
# In the order in which they are offered.
OF_CARDS = (cards.CALLED, cards.GIVEN, cards.NICKNAME, cards.NUMBER, cards.NOTE)


@dataclass(frozen=True)
class Table:
    """What a file holds, each row as long; `left`: the properties of cards that are never taken.

    Of cards the `columns` are properties, and one cell holds all numbers, one a line. Of lines
    they are what stands in the first one, which is a row as well: a person says if it is a head.
    """

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    is_cards: bool = False
    left: tuple[str, ...] = ()


def read(content: bytes) -> Table:
    """The table in a file.

    Raise NotRead: too_large (over MOST_BYTES), nothing_in_it (or but a head), no_text, cut_short,
    no_table, too_many_lines (over MOST_LINES), too_wide (over MOST_COLUMNS, or MOST_SIGNS in all).
    """
    if len(content) > MOST_BYTES:
        raise NotRead("too_large")
    text = as_text(content)
    if not text.strip():
        raise NotRead("nothing_in_it")
    if _CONTROL.search(text):
        raise NotRead("no_text")
    is_cards = text.lstrip()[: len(cards.BEGIN)].upper() == cards.BEGIN
    table = _of_cards(text) if is_cards else _of_lines(text)
    if sum(len(cell) for row in table.rows for cell in row) > MOST_SIGNS:
        raise NotRead("too_wide")
    return table


def as_text(content: bytes) -> str:
    """The letters of a file: by its mark at the beginning, else as UTF-16, UTF-8, Latin.

    Latin letters are read as Windows-1252, which spreadsheets write.
    """
    for mark, encoding in (
        (b"\xef\xbb\xbf", "utf-8-sig"),
        (b"\xff\xfe", "utf-16"),
        (b"\xfe\xff", "utf-16"),
    ):
        if content.startswith(mark):
            return content.decode(encoding, "replace")
    if b"\0" in content[:2]:
        order = "be" if content[0] == 0 else "le"
        return content.decode(f"utf-16-{order}", "replace")
    for encoding in ("utf-8", "cp1252"):
        try:
            return content.decode(encoding)
        except UnicodeDecodeError:
            continue
    return content.decode("latin-1")


def _of_cards(text: str) -> Table:
    rows: list[tuple[str, ...]] = []
    left: set[str] = set()
    for card in cards.cards(text):
        if len(rows) == MOST_LINES:
            raise NotRead("too_many_lines")
        left |= card.left
        cells = ("\n".join(dict.fromkeys(card.values.get(key, []))) for key in OF_CARDS)
        rows.append(tuple(cell[:LONGEST] for cell in cells))
    return _without_empty(Table(OF_CARDS, tuple(rows), is_cards=True, left=tuple(sorted(left))))


def _of_lines(text: str) -> Table:
    """The rows of a CSV (RFC 4180), by the separator that parts its lines most evenly."""
    rows: list[tuple[str, ...]] = []
    try:
        for cells in csv.reader(_lines(text), delimiter=separator(text)):
            if not any(cell.strip() for cell in cells):
                continue
            if len(rows) > MOST_LINES:
                raise NotRead("too_many_lines")
            if len(cells) > MOST_COLUMNS:
                raise NotRead("too_wide")
            rows.append(tuple(cell.strip()[:LONGEST] for cell in cells))
    except csv.Error as error:
        raise NotRead("no_table") from error
    if len(rows) > MOST_LINES and not has_head(rows[0]):
        raise NotRead("too_many_lines")
    if len(rows) == 1 and has_head(rows[0]):  # a head and nobody, or what is no list at all
        raise NotRead("nothing_in_it")
    width = max(map(len, rows), default=0)
    padded = tuple((*row, *[""] * (width - len(row))) for row in rows)
    return _without_empty(Table(padded[0] if padded else (), padded))


def _lines(text: str) -> list[str]:
    """Lines with their ends, so that a cell in quotes keeps the lines it holds."""
    return [f"{line}\n" for line in cards.LINES.split(text)]


def separator(text: str) -> str:
    """What stands between the cells: the sign that parts the first lines into most cells alike."""
    head = _lines(text)[:20]

    def evenness(sign: str) -> tuple[int, int]:
        widths = [len(row) for row in csv.reader(head, delimiter=sign) if row]
        wide = [width for width in widths if width > 1]
        best = max(set(wide), key=wide.count, default=0)
        return (wide.count(best), best)

    return max(SEPARATORS, key=evenness)


def has_head(row: tuple[str, ...]) -> bool:
    """Whether a first line names the columns: no cell of it holds a number."""
    return not any(_DIGITS.search(cell) for cell in row)


def _without_empty(table: Table) -> Table:
    """The table without the columns in which nothing stands."""
    full = [at for at, column in enumerate(zip(*table.rows, strict=True)) if any(column)]
    if not full:
        raise NotRead("nothing_in_it")
    columns = tuple(table.columns[at] for at in full)
    rows = tuple(tuple(row[at] for at in full) for row in table.rows)
    return Table(columns, rows, table.is_cards, table.left)
