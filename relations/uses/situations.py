"""The situation changed: a group, a place or a set of people is looked at again before any use."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID, uuid4

from django.db import transaction
from django.db.models import Count, Q, QuerySet

from relations.people import actions as people
from relations.people.models import Community, Participant, PersonHold
from relations.pictures.models import Picture
from relations.privacy.models import User
from relations.privacy.refused import Refused

from .models import ClearanceSheet, PlannedUse, Shown


def whom(
    *,
    community: Community | None = None,
    countries: Iterable[str] = (),
    codes: Iterable[str] = (),
) -> QuerySet[Participant]:
    """Everybody of a group, everybody shown or to be shown in a country, and those with a code.

    What is shown or planned for the world is so in every country.
    """
    found = Q(code__in=list(codes))
    if community is not None:
        found |= Q(community=community)
    there = _pictures_in(set(countries))
    if there:
        found |= Q(appearances__picture__in=there)
    return Participant.objects.filter(found).distinct().order_by("code")


def _pictures_in(countries: set[str]) -> set[UUID]:
    """The pictures that are shown or planned there; none where no country is named."""
    if not countries:
        return set()
    rows: list[tuple[list[str] | None, UUID | None]] = [
        *Shown.objects.values_list("countries", "pictures"),
        *PlannedUse.objects.filter(dropped_on=None, asked__dropped_on=None).values_list(
            "countries", "asked__picture"
        ),
    ]
    return {key for named, key in rows if key and (named is None or countries & set(named))}


@transaction.atomic
def look_again(
    *, persons: Iterable[Participant], next_look_on: date | None, by: User, at: datetime
) -> UUID:
    """Hold all of them until somebody has looked, within 14 days; give the key they share.

    Whoever is held already stays so and is looked at with the others. Every answer that was kept
    of a picture of theirs is out of date from now on (F17), since a hold is part of what it was
    weighed from. Refused: artist_only, nobody, look_within_14_days.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    key, chosen = uuid4(), list(persons)
    if not chosen:
        raise Refused("nobody")
    for person in chosen:
        laid = people.hold(person=person, by=by, at=at, next_look_on=next_look_on)
        if laid.together is None:
            laid.together = key
            laid.save(update_fields=["together"])
    return key


@transaction.atomic
def looked(*, key: UUID, sentence: str, by: User, at: datetime) -> int:
    """Lift what one change of the situation laid; give how many holds it was.

    Refused: artist_or_keeper, no_sentence.
    """
    laid = list(held(key).filter(lifted_at=None))
    for hold in laid:
        people.lift(hold=hold, sentence=sentence, by=by, at=at)
    return len(laid)


def held(key: UUID) -> QuerySet[PersonHold]:
    """The holds that one change of the situation laid, lifted ones too."""
    found = PersonHold.objects.filter(together=key).select_related("person")
    return found.order_by("person__code")


def open_ones() -> list[tuple[UUID, date, int]]:
    """Every change that somebody must still look into: its key, the next look, how many people."""
    rows = PersonHold.objects.filter(lifted_at=None).exclude(together=None)
    counted = rows.values("together", "next_look_on").annotate(amount=Count("pk"))
    found = counted.order_by("next_look_on", "together")
    return [
        (key, look, amount)
        for key, look, amount in found.values_list("together", "next_look_on", "amount")
        if key is not None
    ]


@dataclass(frozen=True)
class Touched:
    """What went out of date: plans and sheets with pictures of these people, and what is shown."""

    plans: list[PlannedUse]
    sheets: list[ClearanceSheet]
    shown: list[Shown]


def touched(persons: Iterable[Participant]) -> Touched:
    """Everything planned, handed out or shown with one of them in it.

    Each plan has `amount`, how many of its pictures they are in.
    """
    theirs = Picture.objects.filter(appearances__person__in=list(persons))
    plans = PlannedUse.objects.filter(
        dropped_on=None, asked__dropped_on=None, asked__picture__in=theirs
    ).annotate(amount=Count("asked__picture", distinct=True))
    sheets = ClearanceSheet.objects.filter(
        replaced_by=None, ended_at=None, lines__weighing__asked__picture__in=theirs
    )
    shown = Shown.objects.filter(pictures__in=theirs).distinct()
    return Touched(
        list(plans.order_by("starts_on", "code")),
        list(sheets.select_related("plan").distinct().order_by("-number")),
        list(shown.order_by("-starts_on", "code")),
    )
