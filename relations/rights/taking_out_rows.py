"""The whole register as one JSON document, table by table, without who told us of whom."""

import json
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from decimal import Decimal
from functools import lru_cache
from typing import Any
from uuid import UUID

from django.db.models import Model, QuerySet

from relations.meetings.queries import NOT_RUNG
from relations.people.models import (
    Introduction,
    Name,
    NameKind,
    NeverRing,
    OutsideIntroducer,
    Participant,
    PersonHold,
    PhoneLine,
)
from relations.people.values import Condition, Standing

from .leaving import table
from .masking import Others
from .taking_out_table import LEFT_OUT, NOT_SAID, TAKEN, Taken

# What tells a reader which writing of it this is.
FORMAT = "relations-register-1"
# In the JSON, which is for machines.
SOMEBODY = "somebody else"
BATCH = 500
# Keys in order, no spaces, nothing but what JSON must escape: the same register gives the same
# bytes (RFC 8785; its keys are ASCII and its numbers whole).
_write = json.JSONEncoder(ensure_ascii=False, sort_keys=True, separators=(",", ":")).encode


def document(at: datetime) -> Iterator[bytes]:
    """The document in pieces, to be read as of one moment; `at` (aware) is when it was made.

    {"format": FORMAT, "left_out": {table or field: why}, "made_at": …, "tables": {table: [{"id":
    …, field: …}]}}. A row's `id` is its random key, a link the key of the row it leads to, a link
    to many a list of keys; rows stand in the order of their keys, which says nothing. Days and
    hours are ISO 8601, moments in UTC; amounts are text; what is not held is null.
    """
    house = _House()
    head = {"format": FORMAT, "left_out": {**LEFT_OUT, **NOT_SAID}, "made_at": _plain(at)}
    yield _write(head)[:-1].encode() + b',"tables":{'
    for number, label in enumerate(sorted(TAKEN)):
        yield b"," * bool(number) + _write(label).encode() + b":["
        for place, row in enumerate(_rows(label, house)):
            yield b"," * bool(place) + _write(row).encode()
        yield b"]"
    yield b"}}"


@dataclass
class _House:
    """What is known of everybody before a row is read: who may be rung, and who told us of whom."""

    never: set[bytes] = field(default_factory=lambda: _never_rung())
    not_rung: set[UUID] = field(default_factory=lambda: _not_rung())
    ties: dict[UUID, set[UUID]] = field(default_factory=lambda: _ties())
    outside: list[OutsideIntroducer] = field(
        default_factory=lambda: list(OutsideIntroducer.objects.all())
    )

    def __post_init__(self) -> None:
        self.others: Callable[[UUID], Others] = lru_cache(BATCH)(self._others)

    def _others(self, person: UUID) -> Others:
        """Whoever told us of somebody and of whom they told us, by every name and code."""
        tied = self.ties.get(person, set())
        people = Participant.objects.filter(pk__in=tied | {person})
        known: dict[bool, list[str]] = {True: [], False: []}
        codes = [one.code for one in self.outside]
        for one in people:
            is_own = one.pk == person
            known[is_own] += [one.call_name, *([one.code] if is_own else [])]
            codes += [] if is_own else [one.code]
        for name in Name.objects.filter(person__in=people):
            known[name.person_id == person].append(name.text)
        labels = [one.label for one in self.outside]
        return Others([*known[False], *labels], codes=codes, own_names=known[True])

    def may_be_rung(self, line: PhoneLine) -> bool:
        """Whether a number may stand on a card: theirs alone, in use, and nothing against it."""
        is_usable = bool(line.number) and not line.is_shared and line.ended_on is None
        return is_usable and line.person_id not in self.not_rung


def _never_rung() -> set[bytes]:
    rows = NeverRing.objects.filter(undone_at=None, whole_number=True)
    return {bytes(mark) for mark in rows.values_list("mark", flat=True)}


def _not_rung() -> set[UUID]:
    """Whom we ring not at all or not now: by where they stand, for a hold, since they cannot."""
    people = Participant.objects.order_by()
    found = set(people.filter(standing__in=NOT_RUNG).values_list("pk", flat=True))
    found |= set(people.exclude(condition=Condition.WELL).values_list("pk", flat=True))
    holds = PersonHold.objects.filter(lifted_at=None)
    return found | set(holds.values_list("person_id", flat=True))


def _ties() -> dict[UUID, set[UUID]]:
    """Both ends of each introduction between people of the register."""
    found = defaultdict[UUID, set[UUID]](set)
    told = Introduction.objects.exclude(introducer=None)
    for one, other in told.values_list("person_id", "introducer_id"):
        found[one].add(other)
        found[other].add(one)
    return dict(found)


def _rows(label: str, house: _House) -> Iterator[dict[str, Any]]:
    held, model = TAKEN[label], table(label)
    many = {name: _many(model, name) for name in held.many.split()}
    rows = _only(label, model._base_manager.order_by("pk"))
    for row in rows.only("pk", *_needed(label, held)).iterator(BATCH):
        if isinstance(row, PhoneLine) and row.mark and bytes(row.mark) in house.never:
            continue
        said = {name: _plain(_end(row, name)) for name in held.fields.split()}
        said |= {name: found.get(row.pk, []) for name, found in many.items()}
        for name in held.words.split():
            if said[name]:
                person = getattr(row, held.person)
                said[name] = house.others(person).masked(said[name], SOMEBODY)
        if isinstance(row, PhoneLine):
            said["may_be_rung"] = house.may_be_rung(row)
        yield {"id": str(row.pk), **said}


def _only(label: str, rows: "QuerySet[Any]") -> "QuerySet[Any]":
    """The rows that are in it: no name that must not be printed, nobody else's number."""
    if label == "people.Name":
        return rows.exclude(kind=NameKind.NEVER_PRINT)
    if label == "people.PhoneLine":
        return rows.filter(through=None).exclude(person__standing=Standing.NEVER_RING)
    return rows


def _needed(label: str, held: Taken) -> Iterable[str]:
    return (*held.fields.split(), *(["mark"] if label == "people.PhoneLine" else []))


def _end(row: Model, name: str) -> Any:
    """What a field holds; of a link the key of the row it leads to."""
    return getattr(row, row._meta.get_field(name).attname)  # type: ignore[union-attr]


def _many(model: type[Model], name: str) -> dict[UUID, list[str]]:
    """The keys to which each row leads, in the order of the keys."""
    link = model._meta.get_field(name)
    between = link.remote_field.through  # type: ignore[union-attr]
    ours, theirs = link.m2m_column_name(), link.m2m_reverse_name()  # type: ignore[union-attr]
    found = defaultdict[UUID, list[str]](list)
    for one, other in between._base_manager.values_list(ours, theirs):
        found[one].append(str(other))
    return {one: sorted(others) for one, others in found.items()}


def _plain(value: Any) -> Any:
    """A value in types that JSON has."""
    if isinstance(value, datetime):
        moment = value.astimezone(UTC).replace(microsecond=0)
        return moment.isoformat().replace("+00:00", "Z")
    if isinstance(value, time):
        return f"{value:%H:%M}"
    if isinstance(value, date):
        return value.isoformat()
    return str(value) if isinstance(value, (UUID, Decimal)) else value
