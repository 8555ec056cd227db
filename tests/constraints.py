"""What the tables of a room refuse, and what becomes of a row when the one it points at goes."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from django.apps import apps
from django.db import IntegrityError, connection, transaction
from django.db.models import Field, Model, ProtectedError, UniqueConstraint

from tests.rows import make

Cases = list[tuple[str, Callable[[], object]]]


def cases(table: Cases) -> list[Any]:
    """The lines of a table as parameters, each called what it is about."""
    return [pytest.param(*line, id=line[0]) for line in table]


def links(**fates: str) -> list[Any]:
    """Columns by what `fate` says of them, as parameters."""
    return [(name, fate) for fate, names in fates.items() for name in names.split()]


def _fields(room: str) -> dict[str, Field]:
    """The room's own columns, as `Form.sheet`."""
    models = list(apps.get_app_config(room).get_models())
    return {f"{model.__name__}.{f.name}": f for model in models for f in model._meta.local_fields}


def constraints_of(room: str) -> set[str]:
    """The constraints that the room's models name."""
    models = apps.get_app_config(room).get_models()
    return {constraint.name for model in models for constraint in model._meta.constraints}


def once_in(room: str) -> set[str]:
    """The columns, as `Form.sheet`, in which no two rows say the same, besides the key."""
    return {name for name, f in _fields(room).items() if f.unique and not f.primary_key}


def links_of(room: str) -> set[str]:
    """The columns, as `Form.sheet`, that point at another row."""
    return {name for name, f in _fields(room).items() if f.remote_field}


@contextmanager
def refused_by(room: str, name: str) -> Iterator[None]:
    """The database itself refuses what is done here, for this reason and no other.

    `name` is a constraint, or a column as `Form.sheet`. Of what must be unique SQLite names the
    columns only, and PostgreSQL them too.
    """
    with pytest.raises(IntegrityError) as caught, transaction.atomic():
        yield
    words = str(caught.value)
    model, fields = _unique(room, name)
    table = model._meta.db_table
    columns = [field.column for field in fields]
    assert (
        name in words
        or words == "UNIQUE constraint failed: " + ", ".join(f"{table}.{one}" for one in columns)
        # A column whose name is a word of the language is quoted there.
        or f"Key ({', '.join(columns)})=" in words.replace('"', "")
    ), words


def _unique(room: str, name: str) -> tuple[type[Model], list[Field]]:
    """What must be unique by this name; no field where the name is that of a check."""
    if name in _fields(room):
        field = _fields(room)[name]
        return field.model, [field]
    for model in apps.get_app_config(room).get_models():
        for constraint in model._meta.constraints:
            if constraint.name == name:
                names = constraint.fields if isinstance(constraint, UniqueConstraint) else ()
                return model, [model._meta.get_field(one) for one in names]
    raise LookupError(name)


def fate(room: str, name: str, **given: Any) -> str:
    """What becomes of a row when the one that its column points at is deleted.

    "kept": nothing may be deleted; "gone": both go; "cut": the row stays and points nowhere.
    """
    field = _fields(room)[name]
    at = make(field.related_model)
    row = make(field.model, **{field.name: at}, **given)
    _assert_nothing_hangs(at)
    try:
        at.delete()
    except ProtectedError:
        return "kept"
    left = field.model._default_manager.filter(pk=row.pk).first()
    if not left:
        return "gone"
    assert getattr(left, field.name) is None
    return "cut"


def _assert_nothing_hangs(at: Model) -> None:
    """The database lets no row point at one that is no longer there, whatever Django does."""
    with pytest.raises(IntegrityError, match=r"(?i)foreign key"), transaction.atomic():
        type(at)._base_manager.filter(pk=at.pk)._raw_delete(connection.alias)
        connection.check_constraints()
