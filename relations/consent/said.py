"""What hangs on forms and people, out of all its tables in one query; put together once."""

from collections import defaultdict
from collections.abc import Iterable
from datetime import date
from functools import cache
from operator import itemgetter
from typing import Any, NamedTuple
from uuid import UUID

from django.db.models import Model, QuerySet, Value
from django.db.models.functions import Concat

from .frames import Keys
from .models import (
    CaptionAnswer,
    ConditionDecision,
    Form,
    GuardianAnswer,
    PictureAnswer,
    QuoteAnswer,
    SpeakerAnswer,
    TakenBack,
)


class Hung(NamedTuple):
    """One row of what hangs on a form, whatever table it lies in."""

    kind: str
    form: UUID
    what: str
    is_yes: bool


class Said(NamedTuple):
    """What a person took back, or their speaker answered."""

    kind: str
    what: str
    is_yes: bool
    on: date


def on_forms(forms: Keys) -> dict[UUID, list[Hung]]:
    """All that hangs on these forms, in one query."""
    found: dict[UUID, list[Hung]] = defaultdict(list)
    for row in _together(one.filter(form__in=forms) for one in _tables()):
        found[row[1]].append(Hung(*row))
    return found


def by_people(people: Keys, on: date) -> dict[UUID, list[Said]]:
    """What people took back and what speakers answered, by day; in one query."""
    back, speaker = _voices()
    found: dict[UUID, list[Said]] = defaultdict(list)
    rows = _together(
        (back.filter(person__in=people), speaker.filter(person__in=people, said_on__lte=on))
    )
    for kind, person, use, picture, is_yes, day in sorted(rows, key=itemgetter(-1)):
        found[person].append(Said(kind, use or picture or kind, is_yes, day))
    return found


def _together(tables: Iterable[QuerySet[Any, Any]]) -> Iterable[tuple[Any, ...]]:
    first, *others = tables
    return first.union(*others, all=True)


# Put together once: that takes longer than asking them does.
@cache
def _tables() -> tuple[QuerySet[Any, Any], ...]:
    """What hangs on any form, table by table."""
    yes = Value(value=True)
    caption = Concat("caption__picture__code", Value("/"), "caption__version")
    hung: dict[str, tuple[type[Model], Any, Any]] = {
        "sitting": (Form.sittings.through, "sitting__code", yes),
        "picture": (PictureAnswer, "picture__code", "is_yes"),
        "caption": (CaptionAnswer, caption, "is_yes"),
        "quote": (QuoteAnswer, "quote__code", "is_yes"),
        "decision": (ConditionDecision, "use", "can"),
        "guardian": (GuardianAnswer, "authority", "is_yes"),
    }
    return tuple(
        table._default_manager.order_by().values_list(Value(kind), "form", what, is_yes)
        for kind, (table, what, is_yes) in hung.items()
    )


@cache
def _voices() -> tuple[QuerySet[Any, Any], QuerySet[Any, Any]]:
    """What was taken back, and what speakers answered, of everybody."""
    back = TakenBack.objects.order_by().values_list(
        "scope", "person", "use", "picture__code", Value(value=True), "said_on"
    )
    speaker = SpeakerAnswer.objects.order_by().values_list(
        Value("speaker"), "person", "use", Value(""), "is_yes", "said_on"
    )
    return back, speaker
