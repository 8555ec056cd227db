"""Everything the register holds about one person, as plain values, with other people taken out."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

from django.db.models import Model, Q
from django.utils import timezone

from relations.consent.models import Form, GuardianAnswer
from relations.meetings.models import Helper
from relations.people.models import (
    Name,
    OutsideIntroducer,
    Participant,
    PhoneLine,
    Speaker,
)
from relations.pictures.models import Quote
from relations.privacy.models import User

from .file_left_out import LEFT_OUT
from .file_table import HOLDS, PARTS, Held
from .leaving import table
from .masking import Others

# In the JSON, which is for machines.
SOMEBODY = "somebody else"
# What tells a reader of the JSON which writing of it this is.
FORMAT = "relations-file-of-a-person-1"
Value = str | int | bool | date | list[Any] | dict[str, Any] | None


@dataclass(frozen=True)
class Item:
    """One thing that is held: its field, the key of its words on paper or "", and its value.

    `is_own`: it is what they are called or reached by, and nothing is taken out of it.
    """

    field: str
    words: str
    value: Value
    is_own: bool


@dataclass(frozen=True)
class Entry:
    """One row of a table."""

    table: str
    items: tuple[Item, ...]


@dataclass(frozen=True)
class File:
    """All that is held about a person, part by part in the order of `file_table.PARTS`."""

    code: str
    parts: dict[str, list[Entry]]
    others: Others

    def said(self, item: Item, somebody: str) -> Value:
        """The value of an item with other people taken out of all words that are not own."""
        return item.value if item.is_own else _masked(item.value, self.others, somebody)


def file_of(person: Participant) -> File:
    """Read all that is held about somebody; each table that HOLDS names, whole."""
    parts: dict[str, list[Entry]] = {part: [] for part in PARTS}
    for label, held in HOLDS.items():
        parts[held.part] += [_entry(label, held, row) for row in _rows(label, held, person)]
    return File(person.code, parts, others_than(person))


def _rows(label: str, held: Held, person: Participant) -> Iterator[Model]:
    found = Q()
    for way in held.ways:
        found |= Q(**{way: person.pk})
    model = table(label)
    yield from (
        model._base_manager.filter(found).order_by(*(model._meta.ordering or ()), "pk").distinct()
    )


def _entry(label: str, held: Held, row: Model) -> Entry:
    # A line that belongs to somebody through whom they are reached is that person's.
    is_anothers = isinstance(row, PhoneLine) and row.through_id is not None
    items = []
    for name, words in held.fields.items():
        is_own = name in held.own and not is_anothers
        value = _value(row, name)
        hides = is_anothers and name in held.own and value
        items.append(Item(name, words, SOMEBODY if hides else value, is_own))
    return Entry(label, tuple(items))


def _value(row: Any, path: str) -> Value:
    """What stands in a field, or at the end of a path; None where the path ends before."""
    for step in path.split("__"):
        row = getattr(row, step) if row is not None else None
    if isinstance(row, datetime):
        return timezone.localtime(row).replace(microsecond=0)
    if isinstance(row, time):
        return f"{row:%H:%M}"
    return str(row) if isinstance(row, Decimal) else row


def _masked(value: Value, others: Others, somebody: str) -> Value:
    if isinstance(value, str):
        return others.masked(value, somebody)
    if isinstance(value, list):
        return [_masked(one, others, somebody) for one in value]
    if isinstance(value, dict):
        return {name: _masked(one, others, somebody) for name, one in value.items()}
    return value


def others_than(person: Participant) -> Others:
    """What everybody else is known by: who sits, who told us, who helps, who uses the site."""
    return Others(
        names=_names_of_others(person),
        words=_words_of_others(person),
        codes=_codes_of_others(person),
        own_names=_own_names(person),
        own_numbers=_own_numbers(person),
    )


def _names_of_others(person: Participant) -> Iterator[str]:
    yield from _texts(Participant.objects.exclude(pk=person.pk), "call_name")
    yield from _texts(Name.objects.exclude(person=person), "text")
    yield from _texts(Speaker.objects.all(), "name")
    yield from _texts(Helper.objects.all(), "name")
    yield from _texts(OutsideIntroducer.objects.all(), "label")
    yield from _texts(GuardianAnswer.objects.all(), "name")
    yield from _texts(Form.objects.exclude(person=person), "agreed_name")
    yield from _texts(User.objects.all(), "called")
    yield from _texts(User.objects.all(), "username")


def _words_of_others(person: Participant) -> Iterator[str]:
    yield from _texts(Quote.objects.exclude(by=person), "words")
    yield from _texts(Form.objects.exclude(person=person), "own_condition")


def _codes_of_others(person: Participant) -> Iterator[str]:
    yield from _texts(Participant.objects.exclude(pk=person.pk), "code")
    yield from _texts(OutsideIntroducer.objects.all(), "code")


def _own_names(person: Participant) -> Iterator[str]:
    yield from (person.code, person.call_name)
    yield from _texts(person.names.all(), "text")
    yield from _texts(person.forms.all(), "agreed_name")
    yield from _texts(person.quotes.all(), "words")
    yield from _texts(person.forms.all(), "own_condition")


def _own_numbers(person: Participant) -> Iterator[str]:
    for line in person.lines.filter(through=None):
        yield from (line.as_typed, line.number)


def _texts(rows: Iterable[Model], field: str) -> Iterator[str]:
    yield from (said for row in rows if (said := getattr(row, field)))


def as_data(file: File, on: date) -> dict[str, Any]:
    """The file for machines, in types that JSON has; its keys stay as they are.

    {"format": FORMAT, "code": …, "made_on": "2026-11-23", "held": [{"table": "people.Name",
    "fields": {"text": …}}], "left_out": {"privacy.Mending": "why"}}. Days and hours are ISO 8601;
    a field is named as its column, or by the path to it (`sheet__serial`); what is not held is
    null. Where another person stood is `SOMEBODY`.
    """
    held = [
        {
            "table": entry.table,
            "fields": {one.field: _plain(file.said(one, SOMEBODY)) for one in entry.items},
        }
        for entries in file.parts.values()
        for entry in entries
    ]
    return {
        "format": FORMAT,
        "code": file.code,
        "made_on": on.isoformat(),
        "held": held,
        "left_out": LEFT_OUT,
    }


def _plain(value: Value) -> Any:
    return value.isoformat() if isinstance(value, date) else value
