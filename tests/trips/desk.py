"""The desk on which the tests of trips lay theirs: T7, its days, those planned, its blanks."""

from datetime import date, timedelta

from relations.consent import blanks
from relations.consent.models import Form
from relations.meetings.models import Trip
from relations.people.models import Participant
from relations.trips import actions
from tests import cast
from tests.consent import desk as papers
from tests.rows import make

FIRST, LAST = date(2026, 11, 30), date(2026, 12, 13)


def trip(**more) -> Trip:
    return make(Trip, **{"code": "T7", "first_day": FIRST, "last_day": LAST, **more})


def sitter(languages: str = "fr", **more) -> Participant:
    return make(Participant, languages=languages, standing="taking_part", **more)


def days(trip: Trip, count: int, rounds: int = 0) -> None:
    worked = [trip.first_day + timedelta(days=number) for number in range(count)]
    actions.set_days(trip=trip, days=worked, rounds=worked[:rounds], by=cast.artist())


def plan(trip: Trip, person: Participant, **more):
    return actions.plan(trip=trip, person=person, by=cast.artist(), on=cast.TODAY, **more)


def blank_forms(trip: Trip, **counts: int) -> list[Form]:
    """So many blanks in each language, printed and signed out; these languages are read."""
    papers.frozen("en", *counts)
    who = cast.assistant()
    return blanks.print_blanks(
        trip=trip, counts=counts, carrier=who, by=who, at=cast.moment(), second=""
    )
