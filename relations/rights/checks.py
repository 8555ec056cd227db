"""What is said at start-up where something would be stored of which nobody has said why.

Errors, not cautions: no home is made or opened and no table is changed until the list is whole.
`begin` and `update` ask for this check by its tag; every opening calls `stand`.
"""

from collections.abc import Iterator
from typing import Any

from django.core.checks import CheckMessage, Error

from relations.privacy.keys import StaysLocked

from . import impact_table

KEPT = "kept"
WHERE = "relations/rights/impact_people.py and its neighbours"


def _said(fields: list[str], what: str, hint: str, key: str) -> Iterator[CheckMessage]:
    for name in fields:
        yield Error(f"{name} {what}", hint=hint, id=f"rights.{key}")


def impact(*_: object, **__: Any) -> list[CheckMessage]:
    """Name each field that the impact assessment lacks, and each that it has too much."""
    missing, absent = impact_table.faults()
    return [
        *_said(
            missing,
            "is stored, and the impact assessment does not say why.",
            f"Say in {WHERE} why it is kept, how long and who reads it, or keep it not.",
            "E001",
        ),
        *_said(
            absent,
            "stands in the impact assessment and is not stored.",
            f"Take it out of {WHERE}.",
            "E002",
        ),
    ]


class Unlisted(StaysLocked):
    """A field would be stored of which the impact assessment does not say why."""


def stand() -> None:
    """Raise Unlisted at an opening, before anything is stored that nobody has said why."""
    if any(impact_table.faults()):
        raise Unlisted("a field is not in the impact assessment. Run: manage.py check")
