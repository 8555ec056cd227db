"""Which pictures may be carried and shown to strangers on a trip, by its place and its days."""

from dataclasses import dataclass
from datetime import date

from relations.consent import queries as consent
from relations.consent.answers import Answer, Result
from relations.consent.values import Plan, Use
from relations.consent.weighing import weigh_all
from relations.meetings.models import Trip
from relations.pictures.models import Picture
from relations.uses.standstill import may_be_used_anew

from .queries import stay


@dataclass(frozen=True)
class Weighed:
    """One picture with its answer to being carried."""

    picture: str
    answer: Answer


@dataclass(frozen=True)
class Portfolio:
    """What may be carried, and what stays at home with its reasons; each by code."""

    carried: list[Weighed]
    stays: list[Weighed]


def plan(trip: Trip) -> Plan:
    """The use that a trip is: the carried portfolio (C), in its countries, on its days.

    Nothing is written on the back of a carried print, so no caption is shown and nobody named.
    """
    return Plan(
        use=Use.PORTFOLIO,
        starts_on=trip.first_day,
        ends_on=trip.last_day,
        countries=frozenset(stay(trip).countries),
        shows_captions=False,
    )


def portfolio(trip: Trip, on: date) -> Portfolio:
    """Weigh every picture for being carried on a trip, as of a day; nothing of it is kept.

    Only what is cleared without a condition is carried: among strangers nobody looks up what a
    condition asks. Source: job.md row 12. Nothing is while no new use may be made.
    """
    pictures, everybody = consent.load(Picture.objects.order_by("code"), on)
    answers = weigh_all(pictures, everybody, plan(trip), today=on)
    found = [Weighed(one.id, answer) for one, answer in zip(pictures, answers, strict=True)]
    found.sort(key=lambda one: one.picture)
    may_go = may_be_used_anew()
    return Portfolio(
        [one for one in found if may_go and one.answer.result is Result.CLEARED],
        [one for one in found if not may_go or one.answer.result is not Result.CLEARED],
    )
