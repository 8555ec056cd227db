"""Makes a travelling set: one trip's people and nobody else, in a home of its own."""

import base64
import secrets
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

from django.apps import apps
from django.db import models, transaction
from django.db.models import Q, QuerySet
from django.utils import timezone

from relations.consent import blanks
from relations.consent.models import Form, Wording
from relations.documents.models import Sheet
from relations.languages.finding import Names, Signed, without
from relations.meetings import travelling as sets_made
from relations.meetings.models import Meeting, TravellingSet, Trip
from relations.meetings.queries import of_not_rung
from relations.meetings.values import SetEnd
from relations.people.models import InSight, Name, Participant, PersonHold, PhoneLine, Why
from relations.people.newcomers import who_want_another
from relations.people.values import Standing
from relations.pictures.models import Picture, Sitting
from relations.prints.models import Print
from relations.prints.queries import to_ask_again
from relations.prints.rules import ENDS
from relations.privacy import sets
from relations.privacy.fields import SealedField, mark
from relations.privacy.log import note
from relations.privacy.models import OutboxKey, Role, User

from . import queries
from .carried import CARRIED
from .models import Day

# Free words of a person in which somebody else may be named.
WORDS = ("instruction", "may_say")
HIDDEN = "…"

Rows = dict[str, list[dict[str, Any]]]


@dataclass(frozen=True)
class OnTheTrip:
    """Who is on a trip and why: the meetings that lie ahead, the prints that are due."""

    meetings: list[Meeting]
    prints: list[Print]

    @property
    def people(self) -> dict[Participant, set[Why]]:
        """Everybody, by the work they are on the trip for."""
        found: dict[Participant, set[Why]] = {}
        for meeting in self.meetings:
            found.setdefault(meeting.person, set()).add(Why.MEETING)
        for row in self.prints:
            found.setdefault(row.person, set()).add(Why.PRINT)
        return found


def on_the_trip(trip: Trip, made_for: User) -> OnTheTrip:
    """Whom a set of this trip is of: planned, met on a round of its days, or asked again on it.

    Nobody with an open hold, nobody whom nobody rings, nobody who wants another than `made_for`.
    """
    held = PersonHold.objects.filter(lifted_at=None).values("person")
    free = Participant.objects.exclude(of_not_rung()).exclude(pk__in=held)
    free = free.exclude(pk__in=who_want_another(made_for).values("person"))
    meetings = list(queries.ahead(trip).filter(person__in=free))
    planned = [meeting.person_id for meeting in meetings]
    again = [row.pk for row in to_ask_again(free, trip)]
    days = (trip.first_day, trip.last_day)
    due = Print.objects.filter(person__in=free).filter(
        Q(person__in=planned) | Q(round__on__range=days) | Q(pk__in=again)
    )
    due = due.exclude(state__in=ENDS).select_related("person").order_by("code")
    return OnTheTrip(meetings, list(due))


def rows(trip: Trip, made_for: User, days: Iterable[date]) -> Rows:
    """Everything that goes into a set, by table, as plain values of the fields in CARRIED alone."""
    there = on_the_trip(trip, made_for)
    people = list(there.people)
    paper = blanks.still_blank(trip)
    both = (key for one in paper for key in (one.first_wording_id, one.second_wording_id))
    wordings = {key for key in both if key}
    found: dict[str, Iterable[models.Model]] = {
        "privacy.User": [made_for],
        "privacy.OutboxKey": list(OutboxKey.objects.all()[:1]),
        "meetings.Trip": [trip],
        "trips.Day": Day.objects.filter(trip=trip),
        "people.Participant": people,
        "people.PhoneLine": _lines(people),
        "meetings.Meeting": there.meetings,
        "people.InSight": _in_sight(there, made_for, days),
        "pictures.Picture": Picture.objects.filter(prints__in=there.prints).distinct(),
        "prints.Print": there.prints,
        "consent.Wording": Wording.objects.filter(pk__in=wordings),
        "documents.Sheet": Sheet.objects.filter(form__in=paper),
        "consent.Form": paper,
    }
    plain = {label: [_plain(row, CARRIED[label]) for row in found[label]] for label in CARRIED}
    others = _names_of_others(people)
    for one in plain["people.Participant"]:
        one |= {field: without(one[field], others) for field in WORDS}
    return plain


def _lines(people: list[Participant]) -> QuerySet[PhoneLine]:
    """Lines in use; one that is of somebody outside the trip stays home."""
    lines = PhoneLine.objects.filter(person__in=people, ended_on=None)
    return lines.filter(Q(through=None) | Q(through__in=people)).order_by("pk")


def _in_sight(there: OnTheTrip, user: User, days: Iterable[date]) -> list[InSight]:
    """That everybody in the set is in its user's sight, on each day on which it opens."""
    return [
        InSight(person=person, user=user, day=day, why=why)
        for day in days
        for person, works in there.people.items()
        for why in sorted(works)
    ]


def _names_of_others(people: list[Participant]) -> Names[Signed]:
    outside = Participant.objects.exclude(pk__in=[person.pk for person in people])
    called = [one.call_name for one in outside]
    # Names beyond what to call somebody are not carried of anybody, nor are they in these words.
    spelt = (one.text for one in Name.objects.all())
    return Names(((HIDDEN, name), name) for name in (*called, *spelt))


def _plain(row: models.Model, fields: Iterable[str]) -> dict[str, Any]:
    """The values of these fields, opened, as JSON can say them."""
    found = {}
    for name in fields:
        attname = row._meta.get_field(name).attname  # type: ignore[union-attr]
        value = getattr(row, attname)
        if isinstance(value, bytes | memoryview):
            value = base64.b64encode(bytes(value)).decode()
        found[attname] = value
    return found


def make(
    *, trip: Trip, made_for: User, root: Path, passphrase: str, password: str, at: datetime
) -> TravellingSet:
    """Make the set of a trip in the empty folder `root`, to be signed in to by one user.

    The register knows of it before it is there; what does not come about is given up at once.
    Who is in it counts as in that user's sight until its last day, so an alarm lists them.
    Refused: trip_over, set_is_out. Raise NoSet where it could not be made.
    """
    secret = secrets.token_urlsafe(32)
    row, carried = _note(trip, made_for, secret, at)
    said = {
        "statement": {"trip": trip.code, "until": row.last_day.isoformat(), "key": str(row.pk)},
        "passphrase": passphrase,
        "secret": secret,
        "password": password,
        "day": timezone.localdate(at),
        "at": at,
        "rows": carried,
    }
    try:
        sets.inside(root, "travel", said)
    except BaseException:
        sets_made.end_all(at=at, how=SetEnd.GIVEN_UP, pk=row.pk)
        raise
    return row


@transaction.atomic
def _note(trip: Trip, made_for: User, secret: str, at: datetime) -> tuple[TravellingSet, Rows]:
    row = sets_made.make(trip=trip, made_for=made_for, secret=secret, at=at)
    begin = timezone.localdate(at)
    days = [begin + timedelta(days=n) for n in range((row.last_day - begin).days + 1)]
    there = on_the_trip(trip, made_for)
    InSight.objects.bulk_create(_in_sight(there, made_for, days), ignore_conflicts=True)
    for person in there.people:
        note(None, "carried", "people.participant", person.log_key)
    return row, rows(trip, made_for, days)


def fill(said: Mapping[str, Any]) -> None:
    """Put the rows of a set into its empty tables; in the set's own process, under its own key."""
    with transaction.atomic():
        # All pictures name one sitting of nobody: when and with whom each was made stays home.
        trip, day = said["rows"]["meetings.Trip"][0]["code"], said["day"]
        sitting = Sitting.objects.create(code=trip, on=day)
        for label in CARRIED:
            for one in said["rows"][label]:
                row = _row(apps.get_model(label), one)
                _make_up(row, said, sitting)
                row.save(force_insert=True)


def _row(model: type[models.Model], values: Mapping[str, Any]) -> Any:
    """A new row of these values; whatever is not among them is as in any new row."""
    row = model()
    for field in model._meta.concrete_fields:
        if field.attname in values:
            value = values[field.attname]
            if isinstance(field, models.BinaryField) and not isinstance(field, SealedField):
                value = base64.b64decode(value)
            setattr(row, field.attname, field.to_python(value))
    return row


def _make_up(row: Any, said: Mapping[str, Any], sitting: Sitting) -> None:
    """What a row cannot be without and is not carried: it says nothing of anybody."""
    day = date.fromisoformat(said["day"])
    if isinstance(row, User):
        row.role = Role.ASSISTANT
        row.set_password(said["password"])
    elif isinstance(row, Participant):
        row.heard_on = row.standing_since = day
        row.standing = Standing.MEETING_AGREED
    elif isinstance(row, PhoneLine) and row.number:
        row.mark = mark(row.number)
    elif isinstance(row, Picture):
        row.sitting, row.made_on = sitting, day
    elif isinstance(row, Print):
        row.owed_since = row.state_on = day
    elif isinstance(row, Form):
        row.state_on = day
