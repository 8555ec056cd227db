"""What the impact assessment prints of each table: from the list, the models and the erasing."""

from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

from django.apps import apps
from django.conf import settings

from relations.privacy.fields import SealedField

from . import impact
from .impact import Kept
from .impact_table import LISTED
from .impact_words import CLOCKS, ERASED, READERS, THINGS
from .leaving import BLANKED, GOES
from .letting_words import said

# Behind the name of a field that is sealed, and of one that names a sealed file.
MARKS = {"sealed": "*", "file": "†", "": ""}


class Column(NamedTuple):
    """One field as it is stored: `seal` is `sealed`, `file` (the key of a sealed file) or empty."""

    name: str
    seal: str
    note: object


@dataclass(frozen=True)
class Row:
    """One table as the impact assessment says it; `erased` is `goes`, `blanked` or `stays`."""

    label: str
    kept: Kept
    columns: list[Column]
    erased: str

    @property
    def names(self) -> str:
        """Every field by its name, with its mark; one piece, since a paper of many is slow."""
        return ", ".join(column.name + MARKS[column.seal] for column in self.columns)

    @property
    def noted(self) -> list[Column]:
        """The fields of which more is said."""
        return [column for column in self.columns if column.note]

    @property
    def how_long(self) -> str:
        """How long it is kept, in words."""
        return said(CLOCKS[self.kept.clock])

    @property
    def who(self) -> list[object]:
        """Who may read something of it, in words."""
        return [READERS[reader] for reader in self.kept.who]

    @property
    def on_erasing(self) -> object:
        """What becomes of it when a person is erased, in words."""
        return ERASED[self.erased]


class Part(NamedTuple):
    """All tables about one thing, under its heading."""

    thing: str
    heading: object
    rows: list[Row]


def parts() -> list[Part]:
    """All that is kept, by what it is about, as the page and the paper show it."""
    return [
        Part(thing, THINGS[thing], [_row(label, kept) for label, kept in found.items()])
        for thing, found in impact.by_thing(LISTED)
    ]


def _row(label: str, kept: Kept) -> Row:
    seals = _seals(label)
    columns = [Column(name, seals.get(name, ""), kept.notes.get(name, "")) for name in kept.names]
    return Row(label, kept, columns, _erased(label))


def _erased(label: str) -> str:
    return "goes" if label in GOES else "blanked" if label in BLANKED else "stays"


@cache
def _seals(label: str) -> dict[str, str]:
    """Which fields of a table are sealed: as the models and the settings say, not the list."""
    fields = apps.get_model(label)._meta.local_fields
    sealed = {field.name: "sealed" for field in fields if isinstance(field, SealedField)}
    places = [place for found in settings.RELATIONS_SEALED_FILES.values() for place in found]
    return sealed | {name: "file" for table, name in places if table == label}
