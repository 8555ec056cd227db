"""The table of what a distributed database would ask: every model, unique value and foreign key."""

import re
from collections import Counter
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from django.apps import apps
from django.db.models import Model, UniqueConstraint

TABLE = Path(__file__).with_name("distributed.md")
MODELS: dict[str, type[Model]] = {
    model._meta.label: model for model in apps.get_models(include_auto_created=True)
}


class Row(NamedTuple):
    """One table of the register; names without their marks."""

    label: str
    lies: str
    unique: frozenset[str]
    leads: frozenset[str]
    means: str


def read() -> list[Row]:
    found = []
    for line in TABLE.read_text(encoding="utf-8").splitlines():
        if re.match(r"\| \w+\.\w+ \|", line):
            label, lies, unique, leads, means = (cell.strip() for cell in line.split("|")[1:-1])
            found.append(Row(label, lies, _names(unique), _names(leads), means))
    return found


def _names(cell: str) -> frozenset[str]:
    return frozenset(re.findall(r"`([^`]+)`", cell))


ROWS = read()
COPIED = {row.label for row in ROWS if row.lies == "copied"}


def unique_in(model: type[Model]) -> frozenset[str]:
    """What the database holds to be unique beside the primary key: columns, sets, constraints."""
    meta: Any = model._meta
    alone = [field.column for field in meta.local_fields if field.unique and not field.primary_key]
    sets = ["+".join(meta.get_field(name).column for name in one) for one in meta.unique_together]
    named = [one.name for one in meta.constraints if isinstance(one, UniqueConstraint)]
    return frozenset([*alone, *sets, *named])


def leads_of(model: type[Model]) -> frozenset[str]:
    """The columns that lead to a row that is not on every machine."""
    fields = [field for field in model._meta.local_fields if field.remote_field]
    return frozenset(
        field.column for field in fields if field.related_model._meta.label not in COPIED
    )


def test_every_table_stands_in_it_once_and_none_that_is_not_there():
    assert Counter(row.label for row in ROWS) == Counter(MODELS.keys())


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.label)
def test_row_names_what_is_unique_and_what_leads_elsewhere(row: Row):
    model = MODELS.get(row.label)
    if model is not None:  # else the test above says so
        assert row.lies in {"project", "copied"}
        assert row.unique == unique_in(model)
        assert row.leads == leads_of(model)
        # What is written while people work is not copied to every machine, nor leads there alone.
        assert row.lies == "project" or (row.means and not row.leads)


def test_a_row_that_is_missing_or_wrong_would_be_seen():
    assert unique_in(MODELS["people.InSight"]) == {"insight_once"}
    assert unique_in(MODELS["pictures.Sitting_sitters"]) == {"sitting_id+participant_id"}
    assert leads_of(MODELS["prints.Step"]) == {"print_id", "by_id"}
