"""A planned use as the weighing takes it: names and words of all its pictures, and of one."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from django.db.models import Q, QuerySet, Value
from django.http import Http404

from relations.consent import values
from relations.consent.frames import Words
from relations.people.models import Participant

from .models import NameShown, PlannedPicture, PlannedUse

NAMED, CAPTIONED = "named", "captioned"


@dataclass(frozen=True)
class Planned:
    """The plan of all pictures; those that are shown otherwise, by code; words not the newest."""

    plan: values.Plan
    own: Mapping[str, values.Plan]
    chosen: Mapping[str, Words | None]

    def of(self, picture: str) -> values.Plan:
        """The plan as it holds for one picture."""
        return self.own.get(picture, self.plan)


def planned(plan: PlannedUse) -> Planned:
    """A plan with how each sitter is named and which words are shown; one query."""
    names: dict[str, values.NameForm] = {}
    apart: dict[str, dict[str, values.NameForm]] = {}
    shows: dict[str, bool] = {}
    chosen: dict[str, Words | None] = {}
    for kind, picture, what, how, words in _rows(plan):
        if kind == CAPTIONED:
            if how:
                shows[picture] = how == PlannedPicture.Captioned.SHOWN
            if what is not None:
                chosen[picture] = Words(what, words)
        elif picture is None:
            names[what] = values.NameForm(how)
        else:
            apart.setdefault(picture, {})[what] = values.NameForm(how)
    usual = _plan(plan, names)
    own = {
        code: replace(
            usual,
            names=names | apart.get(code, {}),
            shows_captions=shows.get(code, usual.shows_captions),
        )
        for code in (apart.keys() | shows.keys())
    }
    return Planned(usual, own, chosen)


def _rows(plan: PlannedUse) -> Iterable[tuple[Any, ...]]:
    names, pictures = _tables()
    return names.filter(plan=plan).union(pictures.filter(plan=plan), all=True)


@cache
def _tables() -> tuple[QuerySet[Any, Any], QuerySet[Any, Any]]:
    """What is said of names, and of single pictures, in columns alike; put together once."""
    names = NameShown.objects.order_by().values_list(
        Value(NAMED), "picture__code", "person__code", "name_form", Value("")
    )
    said = ~Q(captioned="") | Q(caption__isnull=False)
    pictures = PlannedPicture.objects.filter(said, dropped_on=None).order_by()
    return names, pictures.values_list(
        Value(CAPTIONED), "picture__code", "caption__version", "captioned", "caption__words"
    )


def _plan(plan: PlannedUse, names: Mapping[str, values.NameForm]) -> values.Plan:
    return values.Plan(
        use=values.Use(plan.use),
        starts_on=plan.starts_on,
        countries=None if plan.countries is None else frozenset(plan.countries),
        ends_on=plan.ends_on,
        is_one_day=plan.one_day,
        is_paper_only=plan.paper_only,
        shows_captions=plan.captions,
        names=names,
    )


def asked_or_404(plan: PlannedUse, code: str) -> PlannedPicture:
    """A picture that is asked for in a plan; Http404 where it is not."""
    found = PlannedPicture.objects.filter(plan=plan, dropped_on=None, picture__code=code)
    row = found.select_related("plan", "picture", "caption").first()
    if row is None:
        raise Http404
    return row


def sitters_in(asked: PlannedPicture) -> list[tuple[Participant, str]]:
    """Everybody in a picture from left to right, with how it alone names them ("" as the plan)."""
    said = NameShown.objects.filter(plan=asked.plan, picture=asked.picture)
    named = dict(said.values_list("person", "name_form"))
    found = Participant.objects.filter(appearances__picture=asked.picture)
    ordered = found.order_by("appearances__place", "code")
    return [(person, named.get(person.pk, "")) for person in ordered]
