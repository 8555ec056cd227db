"""Rows as CSV that a spreadsheet takes for nothing but text.

RFC 4180: a heading, commas, every cell in quotation marks, CRLF; UTF-8 with the mark at its
beginning, by which spreadsheets know it. A cell that a spreadsheet could take for a formula begins
with an apostrophe; so does one that begins with an apostrophe by itself, so that taking one away
from each cell that has it gives back what was there. Source: OWASP ASVS 5.0, 1.2.10 (from memory:
also the zero sign); the wide forms as common practice, no source.
"""

import csv
import io
import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

RISKY = frozenset("=+-@\t\r\n\0'＝＋－＠")
GUARD = "'"


def written(columns: Sequence[str], rows: Iterable[Mapping[str, Any]]) -> bytes:
    """The file; a list or an object is JSON in its cell, null an empty one, yes and no are words.

    KeyError where a row lacks a column.
    """
    text = io.StringIO(newline="")
    out = csv.writer(text, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    out.writerow(map(guarded, columns))
    for row in rows:
        out.writerow(guarded(_cell(row[name])) for name in columns)
    return text.getvalue().encode("utf-8-sig")


def guarded(cell: str) -> str:
    """A cell that no spreadsheet runs."""
    return f"{GUARD}{cell}" if cell[:1] in RISKY and cell else cell


def unguarded(cell: str) -> str:
    """What stood there before it was guarded."""
    return cell.removeprefix(GUARD)


def _cell(value: Any) -> str:
    if value is None:
        return ""
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
