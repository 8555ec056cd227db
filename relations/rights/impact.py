"""The impact assessment as plain values: what is kept of a table, and what its list lacks.

Source: GDPR 35 and 30 (from memory): what is processed, why, for how long, who reads it, the
risks and the measures. The clocks are F-keep of the design of the job.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple


class Thing(StrEnum):
    """What tables are about, in the order of the life of a portrait."""

    PERSON = "person"
    LINKS = "links"
    TALKS = "talks"
    TRIP = "trip"
    PICTURES = "pictures"
    FORMS = "forms"
    PRINTS = "prints"
    USES = "uses"
    RIGHTS = "rights"
    HOUSE = "house"


class Clock(StrEnum):
    """How long the rows of a table are kept; the words for it are in `impact_words`."""

    PERSON = "person"
    DAY = "day"
    WAYS = "ways"
    RINGS = "rings"
    LINKS = "links"
    RECORDING = "recording"
    FORM = "form"
    COPIES = "copies"
    TASK = "task"
    LOG = "log"
    DEVICE = "device"
    DAYS = "days"
    ACCOUNT = "account"
    SESSION = "session"
    PROJECT = "project"


class Reader(StrEnum):
    """Who may read something of a table, each by the letter it has in the lists."""

    ARTIST = "A"
    ASSISTANT = "S"
    WORDING_READER = "W"
    KEEPER = "K"
    VENUE = "V"
    OWN = "O"
    NOBODY = "N"


@dataclass(frozen=True)
class Kept:
    """What is kept in one table: `fields` by their names, parted by spaces; `readers` by letters.

    `why` is one sentence, translated where it is shown, which also says what lies there; `notes`
    says more of single fields.
    """

    thing: Thing
    clock: Clock
    readers: str
    why: object
    fields: str
    notes: Mapping[str, object] = field(default_factory=dict)

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the fields, in the order of the table."""
        return tuple(self.fields.split())

    @property
    def who(self) -> tuple[Reader, ...]:
        """Who may read something of it."""
        return tuple(Reader(letter) for letter in self.readers)


class Faults(NamedTuple):
    """Fields that are stored and not listed, and listed and not stored: as `people.Name.text`."""

    missing: list[str]
    absent: list[str]


def compare(listed: Mapping[str, Kept], stored: Mapping[str, Collection[str]]) -> Faults:
    """Hold the list against what is stored: tables by label, with the names of their fields.

    A table is a fault for each of its fields, and a field listed twice, or with a note that
    belongs to none, is one that is not stored.
    """
    said = {label: list(kept.names) for label, kept in listed.items()}
    missing = [
        f"{label}.{name}"
        for label, names in stored.items()
        for name in names
        if name not in said.get(label, ())
    ]
    absent = [
        f"{label}.{name}"
        for label, names in said.items()
        for place, name in enumerate([*names, *listed[label].notes])
        if name not in stored.get(label, ()) or (place < len(names) and name in names[:place])
    ]
    return Faults(sorted(missing), sorted(absent))


def by_thing(listed: Mapping[str, Kept]) -> Iterator[tuple[Thing, dict[str, Kept]]]:
    """The tables of each thing that has any, in the order of the life of a portrait."""
    for thing in Thing:
        if found := {label: kept for label, kept in listed.items() if kept.thing == thing}:
            yield thing, found
