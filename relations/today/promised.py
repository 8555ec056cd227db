"""What was promised and when it is due: on its day, or before the use they are to be told of."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from uuid import UUID

from django.db.models import QuerySet

from relations.people.access import of
from relations.people.models import Participant
from relations.prints.models import Promise, PromiseKind
from relations.prints.queries import OPEN_PROMISE, open_first
from relations.uses.models import PlannedUse

# How long before its day a promise stands on Today (common practice, no source).
SOON = timedelta(days=14)


@dataclass(frozen=True)
class Due:
    """One promise, the day before which it is to be kept where one is known, and for which use."""

    promise: Promise
    by: date | None
    use: str
    is_late: bool


def of_person(person: Participant, on: date, *, with_uses: bool) -> list[Due]:
    """All that was promised to one person, what is still to be kept first."""
    return _due(open_first(Promise.objects.filter(person=person)), on, with_uses=with_uses)


def due(people: QuerySet[Participant], on: date, *, with_uses: bool) -> list[Due]:
    """What is to be kept by now or soon, first due first.

    `with_uses`: whether the reader may know of planned uses; who may not sees the days that were
    said alone.
    """
    rows = open_first(Promise.objects.filter(of(people), OPEN_PROMISE))
    found = [one for one in _due(rows, on, with_uses=with_uses) if _is_soon(one, on)]
    return sorted(found, key=lambda one: (one.by or on, one.promise.person.code))


def _is_soon(one: Due, on: date) -> bool:
    return one.by is not None and one.by <= on + SOON


def _due(rows: QuerySet[Promise], on: date, *, with_uses: bool) -> list[Due]:
    promises = list(rows.select_related("person"))
    told = {
        row.person_id
        for row in promises
        if with_uses and row.kind == PromiseKind.TELL_BEFORE and row.is_open
    }
    uses = _next_uses(told, on)
    return [_one(row, uses, on) for row in promises]


def _one(row: Promise, uses: dict[UUID, PlannedUse], on: date) -> Due:
    """To tell somebody before is due by the day they named, else by the day of the next use."""
    use = uses.get(row.person_id) if row.is_open and row.kind == PromiseKind.TELL_BEFORE else None
    by = row.due_on or (use.starts_on if use else None)
    return Due(row, by, use.code if use else "", row.is_open and by is not None and by < on)


def _next_uses(persons: Iterable[UUID], on: date) -> dict[UUID, PlannedUse]:
    """The first use still to come for which a picture of theirs is asked for, by person."""
    keys = set(persons)
    if not keys:
        return {}
    plans = PlannedUse.objects.filter(
        dropped_on=None,
        starts_on__gte=on,
        asked__dropped_on=None,
        asked__picture__appearances__person__in=keys,
    )
    pairs = plans.order_by("-starts_on", "-code").values_list(
        "pk", "asked__picture__appearances__person"
    )
    by_key = {plan.pk: plan for plan in plans}
    # The earliest comes last and stays.
    return {person: by_key[plan] for plan, person in pairs if person in keys}
