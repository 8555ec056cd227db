"""A record in which nothing is missing, for the tests of what is handed to others."""

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import rdflib

from relations.consent.boxes import whole
from relations.consent.events import Event, Happened
from relations.consent.export import Project, Record
from relations.consent.record import UseStatus
from relations.consent.values import Use

PROJECT = Project(
    name="Atelier du quai",
    address="1 quai des Essais, Marseille",
    contact="atelier@example.org",
    stop_number="04 65 71 00 42",
    jurisdiction="FR",
    stored_in="FR",
)
ANSWERS = whole(
    {
        "way": "signed",
        "given_on": date(2026, 11, 20),
        "uses": ["book", "exhibition"],
        "only_countries": ["FR", "PT"],
        "last_day": date(2031, 12, 31),
        "name_form": "first",
    }
)
RECORD = Record(
    serial="70042-74",
    code="12",
    version="0201",
    languages=("fr", "ar"),
    digest="0" * 64,
    answers=ANSWERS,
    is_settled=True,
    statuses={use: UseStatus.YES if use in ANSWERS["uses"] else UseStatus.NO for use in Use},
    events=(
        Event(Happened.PRINTED, datetime(2026, 11, 19, 16, 20, tzinfo=UTC)),
        Event(Happened.GIVEN, datetime(2026, 11, 20, tzinfo=UTC), has_hour=False),
        Event(Happened.SETTLED, datetime(2026, 11, 21, tzinfo=UTC), has_hour=False),
    ),
    project=PROJECT,
)


def record(**rest: Any) -> Record:
    return replace(RECORD, **rest)


def graph(content: bytes) -> rdflib.Graph:
    """The triples of a record, read without the network: its context stands in it."""
    return rdflib.Graph().parse(data=content.decode(), format="json-ld")
