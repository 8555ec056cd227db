"""Writes a register that was taken out into a folder: tables as CSV, all as JSON, people as cards.

It knows no home and no database. Everything is written beside the folder first, so that it is there
whole or not at all.
"""

import json
import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from relations.privacy.slots import sync_folder

from . import in_csv, in_vcard
from .in_vcard import Card, Number
from .taking_out_table import TAKEN

PART = ".part-"
READ_ME = """\
This is a whole register of people who were photographed, in clear. It can hurt them: whoever has
this folder knows who they are and how to reach them. Keep it on a disk that is sealed as a whole,
copy nothing of it on, and remove it as soon as you can.

  register.json   everything, in one writing: keys in order, UTF-8 (RFC 8785)
  *.csv           one table each (RFC 4180): commas, CRLF, UTF-8 with a byte order mark. A cell
                  that begins with an apostrophe was guarded, so that no spreadsheet runs it:
                  take one apostrophe away and it is what stood there. Lists are JSON.
  people.vcf      what people are called, and the numbers that may be rung (vCard 4.0, RFC 6350)

Who told us of whom is not in it, nor scans and pictures: "left_out" in register.json says what
else is not, and why. Rows point at each other by "id". A number without "may_be_rung" is not to be
rung; a hold, a Stop or a no that was said since this was made is not in it. Laws on pictures, names
and personal data differ from country to country: ask a licensed lawyer before you use any of it.
"""


class Taken(ValueError):  # noqa: N818 - read as a sentence where it is raised
    """The folder is there already and holds something."""


def write(document: bytes, folder: Path) -> dict[str, int]:
    """Write the document of `taking_out_rows` into an empty or a new folder; rows by table.

    Raise Taken where anything lies in it, OSError from the disk; then nothing is left.
    """
    if folder.is_symlink() or (folder.exists() and not (folder.is_dir() and _is_empty(folder))):
        raise Taken(f"There is something at {folder} already: name a new folder.")
    part = folder.with_name(f"{PART}{folder.name}")
    # Of an earlier one that was cut short.
    shutil.rmtree(part, ignore_errors=True)
    part.mkdir(mode=0o700, parents=True)
    try:
        tables = json.loads(document)["tables"]
        for name, content in _files(document, tables):
            _write(part / name, content)
        sync_folder(part)
        part.replace(folder)
        sync_folder(folder.parent)
    finally:
        shutil.rmtree(part, ignore_errors=True)
    return {label: len(rows) for label, rows in tables.items()}


def _is_empty(folder: Path) -> bool:
    return not any(folder.iterdir())


def _files(document: bytes, tables: dict[str, list[dict[str, Any]]]) -> Iterator[tuple[str, bytes]]:
    yield "read-me.txt", READ_ME.encode()
    yield "register.json", document
    for label, rows in sorted(tables.items()):
        yield f"{label}.csv", in_csv.written(columns(label), rows)
    yield "people.vcf", in_vcard.written(cards(tables))


def columns(label: str) -> list[str]:
    """What stands over the cells of a table, in their order."""
    held = TAKEN[label]
    return ["id", *held.names, *held.worked_out.split()]


def cards(tables: dict[str, list[dict[str, Any]]]) -> Iterator[Card]:
    """A card of everybody who is called something, in the order of their keys."""
    numbers: dict[str, list[dict[str, Any]]] = {}
    for line in tables["people.PhoneLine"]:
        if line["may_be_rung"]:
            numbers.setdefault(line["person"], []).append(line)
    for person in tables["people.Participant"]:
        if person["call_name"]:
            yield Card(
                person["id"],
                person["call_name"],
                tuple(person["languages"].split()),
                tuple(
                    Number(line["number"], line["extension"], person["text_only"])
                    for line in numbers.get(person["id"], [])
                ),
            )


def _write(path: Path, content: bytes) -> None:
    with os.fdopen(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
