"""What the answer to a stop says on paper: what is done, what is asked, what cannot be undone.

Plain values, each named by the key of its words in a wording; no person, no holder and no place.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from typing import NamedTuple

from django.utils import timezone

from relations.consent.models import TakenBack
from relations.consent.values import Scope

from .models import UndoLine
from .rules import Force

# The parts in the order in which they are read aloud.
PARTS = ("done", "to_do", "asked", "cannot")


@dataclass(frozen=True)
class Taken:
    """One thing taken back: its words, the code of a picture or "", the day it was said."""

    words: str
    picture: str
    on: date


class Shown(NamedTuple):
    """Where something was shown: the words of the use, the code of the picture."""

    use: str
    picture: str


@dataclass(frozen=True)
class Told:
    """One sentence, all it is about, and the words of its day, if it has one."""

    words: str
    how: str
    on: date | None
    about: list[Shown] = field(default_factory=list)


@dataclass(frozen=True)
class Part:
    """What has come equally far; `words` is its heading."""

    words: str
    lines: list[Told]


def taken(rows: Iterable[TakenBack]) -> list[Taken]:
    """What was taken back, oldest first: what is not answered yet, or all where all is."""
    found = sorted(rows, key=lambda row: (row.said_on, row.heard_at))
    return [_taken(row) for row in found if row.answered_on is None] or [
        _taken(row) for row in found
    ]


def _taken(row: TakenBack) -> Taken:
    picture = row.picture.code if row.picture else ""
    words = f"use_{row.use}" if row.scope == Scope.USE else f"said_{row.scope}"
    return Taken(words, picture, row.said_on)


def parts(lines: Iterable[UndoLine]) -> list[Part]:
    """Every line under how far it has come; the same sentence of the same day is said once."""
    found: dict[str, dict[tuple[str, str, date | None], Told]] = {name: {} for name in PARTS}
    for line in lines:
        name, how, on = _stands(line)
        key = (f"undo_{line.code}", how, on)
        told = found[name].setdefault(key, Told(*key))
        told.about.append(Shown(f"use_{line.shown.use}", line.picture.code))
    return [Part(name, list(told.values())) for name, told in found.items() if told]


def _stands(line: UndoLine) -> tuple[str, str, date | None]:
    """The part a line belongs to, the words of its day, and the day."""
    if line.cannot:
        return "cannot", "could_not", line.done_on
    if line.force == Force.CANNOT:
        return "cannot", "", None
    if line.done_on is not None:
        return "done", "done_on", line.done_on
    due = timezone.localdate(line.due_at) if line.due_at else None
    return ("asked" if line.force == Force.ASKED else "to_do"), "by_day" if due else "", due
