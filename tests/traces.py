"""Looks for somebody who was erased: in opened rows, raw tables, files, any bytes there are."""

import json
import uuid
from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from django.apps import apps
from django.db import connection, models

from relations.people.models import Participant
from relations.privacy.fields import SealedField
from relations.rights.leaving import going

WRITINGS = ("utf-8", "utf-16-le", "utf-16-be")
# Shorter ones are met by chance.
SHORTEST = 5  # bytes
# Where the random key of somebody erased may stand: nothing ties it to anybody any more.
KEEPS_THE_KEY = "privacy.AccessEntry.key"


def values_of(person: Participant) -> set[bytes]:
    """Everything by which a person is known: sealed values, marks, keys of rows, in all writings.

    To be asked before they are erased.
    """
    leaving = going(person)
    found: set[bytes] = set(_keys([person.pk, person.log_key]))
    for label, keys in leaving.rows.items():
        model = apps.get_model(label)
        found |= set(_keys(keys))
        for row in model._base_manager.filter(pk__in=keys):
            for field in model._meta.concrete_fields:
                found |= set(_of(field, row))
    return {value for value in found if len(value) >= SHORTEST}


def _of(field: models.Field, row: models.Model) -> Iterable[bytes]:
    value = getattr(row, field.attname)
    if field.attname == "mark" and value:
        yield bytes(value)
        yield bytes(value).hex().encode()
    if isinstance(field, SealedField) and value:
        yield token(field, row)
        for word in _words(value):
            yield from (word.encode(writing) for writing in WRITINGS)


def token(field: models.Field, row: models.Model) -> bytes:
    """What is sealed in a field of a row, as it lies in the table."""
    return bytes(type(row)._base_manager.values_list(field.attname, flat=True).get(pk=row.pk))


def tokens(row: models.Model) -> set[bytes]:
    """All that is sealed of a row, as it lies in the table."""
    sealed = (field for field in row._meta.concrete_fields if isinstance(field, SealedField))
    return {token(field, row) for field in sealed if getattr(row, field.attname)}


def _words(value: Any) -> Iterable[str]:
    """Words of somebody; codes, choices and keys inside sealed JSON are none."""
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        return [word for one in value for word in _words(one)]
    if isinstance(value, date):
        return [value.isoformat()]
    is_word = isinstance(value, str) and not value.replace("_", "").isascii()
    return [value] if is_word or (isinstance(value, str) and not value.islower()) else []


def _keys(keys: Iterable[uuid.UUID]) -> Iterable[bytes]:
    """A key as each database and each file may write it."""
    for key in keys:
        yield from (key.bytes, key.hex.encode(), str(key).encode())


def opened() -> dict[str, bytes]:
    """Every column of every table, sealed ones opened, by `people.Name.text`."""
    found: dict[str, bytes] = {}
    for model in apps.get_models(include_auto_created=True):
        rows = list(model._base_manager.all())
        for field in model._meta.concrete_fields:
            said = (as_bytes(getattr(row, field.attname)) for row in rows)
            found[f"{model._meta.label}.{field.name}"] = b"\0".join(said)
    return found


def raw() -> dict[str, bytes]:
    """Every table as the database gives it, sealed values as tokens."""
    found = {}
    with connection.cursor() as cursor:
        for name in connection.introspection.table_names(cursor):
            cursor.execute(f"SELECT * FROM {connection.ops.quote_name(name)}")  # noqa: S608
            cells = (as_bytes(cell) for row in cursor.fetchall() for cell in row)
            found[f"table {name}"] = b"\0".join(cells)
    return found


def as_bytes(value: object) -> bytes:
    if isinstance(value, bytes | memoryview):
        return bytes(value)
    if isinstance(value, dict | list):
        return json.dumps(value, ensure_ascii=False).encode()
    return str(value).encode()


def files(root: Path) -> dict[str, bytes]:
    """Every file below a folder, as it lies there."""
    found = (path for path in sorted(root.rglob("*")) if path.is_file())
    return {str(path.relative_to(root)): path.read_bytes() for path in found}


def traces(values: Iterable[bytes], places: Mapping[str, bytes]) -> list[str]:
    """In which of these places something of somebody stands; [] where nothing does."""
    sought = sorted(values)
    return [name for name, content in places.items() if any(one in content for one in sought)]
