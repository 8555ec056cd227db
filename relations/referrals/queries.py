"""The introductions as codes, days and waves: the only read of the whole web."""

from dataclasses import dataclass

from relations.people.models import Introduction, OutsideIntroducer

from .graph import Reached, Word, came_of, sweep, told_of


@dataclass(frozen=True)
class Line:
    """One person on the page of introductions, by code only."""

    code: str
    reached: Reached
    told_of: int
    came_of: int
    is_outside: bool


def words() -> list[Word]:
    """Every hearing that is kept, by codes; one query."""
    rows = Introduction.objects.order_by("heard_on", "id").values_list(
        "person__code", "introducer__code", "outside__code", "heard_on", "wave", "is_withheld"
    )
    return [
        Word(person, introducer or outside or "", on, number, wave, is_withheld)
        for number, (person, introducer, outside, on, wave, is_withheld) in enumerate(rows)
    ]


def introductions() -> list[Line]:
    """Everybody who was reached, in the order of being reached; two queries."""
    outside = set(OutsideIntroducer.objects.values_list("code", flat=True))
    reached = sweep(words(), outside)
    told, came = told_of(reached), came_of(reached)
    return [
        Line(code, one, told[code], came[code], is_outside=one.first in outside)
        for code, one in reached.items()
    ]
