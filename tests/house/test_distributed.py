"""The table of what a distributed database would ask: every model, unique value and foreign key."""

import re
from collections import Counter
from pathlib import Path
from typing import Any, NamedTuple

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


def test_rows_name_what_is_unique_and_what_leads_elsewhere():
    # A table that is missing is the matter of the test above.
    there = [(row, MODELS[row.label]) for row in ROWS if row.label in MODELS]
    wrong = [
        f"{row.label}: unique {sorted(unique_in(model))}, leads {sorted(leads_of(model))}"
        for row, model in there
        if (row.unique, row.leads) != (unique_in(model), leads_of(model))
    ]
    assert wrong == []


def test_what_is_copied_to_every_machine_is_small_and_leads_nowhere():
    assert {row.lies for row in ROWS} == {"project", "copied"}
    assert [
        row.label for row in ROWS if row.lies == "copied" and (row.leads or not row.means)
    ] == []


def test_a_row_that_is_missing_or_wrong_would_be_seen():
    assert unique_in(MODELS["people.InSight"]) == {"insight_once"}
    assert unique_in(MODELS["pictures.Sitting_sitters"]) == {"sitting_id+participant_id"}
    assert leads_of(MODELS["prints.Step"]) == {"print_id", "by_id"}
