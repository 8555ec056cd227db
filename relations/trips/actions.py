"""What is written about a trip: its days, who is planned, what was counted, that it is closed."""

from collections.abc import Collection, Iterable, Mapping
from datetime import date, datetime

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from relations.consent import papers
from relations.consent.models import Form
from relations.consent.states import State
from relations.meetings import actions as meetings
from relations.meetings.models import Meeting, Trip
from relations.meetings.queries import AHEAD
from relations.people.models import Participant
from relations.privacy.models import User
from relations.privacy.refused import Refused
from relations.rights import actions as rights
from relations.rights.models import Alarm
from relations.rights.values import Lost

from . import queries, rules
from .models import Count, Day, MissingBlank, Stay
from .values import COUNTS, Counted, How


@transaction.atomic
def set_days(
    *,
    trip: Trip,
    days: Iterable[date],
    by: User,
    rounds: Collection[date] = (),
    countries: Iterable[str] = (),
) -> list[Day]:
    """Say on which days of a trip we work, on which of them prints go round, and where it goes.

    `countries` are ISO 3166-1 alpha-2. What was said before is replaced. Refused: outside_trip,
    round_without_day, trip_closed.
    """
    chosen = sorted(set(days))
    if _stay(trip).closed_on is not None:
        raise Refused("trip_closed")
    if any(not trip.first_day <= day <= trip.last_day for day in chosen):
        raise Refused("outside_trip")
    if not set(rounds) <= set(chosen):
        raise Refused("round_without_day")
    Stay.objects.update_or_create(trip=trip, defaults={"countries": sorted(set(countries))})
    Day.objects.filter(trip=trip).delete()
    return [Day.objects.create(trip=trip, on=day, has_round=day in rounds) for day in chosen]


@transaction.atomic
def plan(
    *,
    trip: Trip,
    person: Participant,
    by: User,
    on: date,
    with_camera: bool = True,
    others: int = 0,
    sheets: int = rules.SHEETS_A_SITTING,
) -> Meeting:
    """Plan somebody on a trip: their meeting there, proposed where none is agreed yet.

    `others` come along and answer too, by the same language; `sheets` of film are planned where
    it is a sitting. A second plan changes the first. Refused as `meetings.propose`; trip_closed.
    """
    if _stay(trip).closed_on is not None:
        raise Refused("trip_closed")
    ahead = Meeting.objects.filter(trip=trip, person=person, state__in=AHEAD)
    meeting = ahead.order_by("-with_camera", F("at").asc(nulls_last=True)).first()
    if meeting is None:
        meeting = meetings.propose(person=person, trip=trip, by=by, on=on)
    meeting.with_camera, meeting.others = with_camera, others
    meeting.sheets = sheets if with_camera else 0
    meeting.save(update_fields=["with_camera", "others", "sheets"])
    return meeting


@transaction.atomic
def count(
    *, trip: Trip, counts: Mapping[Counted, Mapping[How, int | None]], by: User, at: datetime
) -> Alarm | None:
    """Write down what was counted, and open an alarm for blanks that are missing.

    A heap that is None was not counted, and what was written there before goes. Give the alarm
    that was opened, or None. Refused: trip_closed, no_such_count.
    """
    if _stay(trip).closed_on is not None:
        raise Refused("trip_closed")
    if any(not set(heaps) <= set(COUNTS.get(thing, ())) for thing, heaps in counts.items()):
        raise Refused("no_such_count")
    on = timezone.localdate(at)
    for thing, heaps in counts.items():
        for how, number in heaps.items():
            if number is None:
                Count.objects.filter(trip=trip, thing=thing, how=how).delete()
            else:
                found = {"number": number, "counted_on": on}
                Count.objects.update_or_create(trip=trip, thing=thing, how=how, defaults=found)
    return sound(trip=trip, by=by, at=at)


@transaction.atomic
def sound(*, trip: Trip, by: User, at: datetime) -> Alarm | None:
    """Open one alarm that names every missing blank of a trip that no alarm names yet (F10).

    None where there is none. A blank bears no name, so nobody is signed out and nobody listed.
    """
    forms = list(
        Form.objects.filter(trip=trip, state=State.MISSING)
        .exclude(pk__in=queries.named_missing(trip))
        .order_by("sheet__serial")
    )
    if not forms:
        return None
    alarm = rights.raise_alarm(what=Lost.BLANK, by=by, at=at)
    MissingBlank.objects.bulk_create(MissingBlank(form=form, alarm=alarm) for form in forms)
    return alarm


@transaction.atomic
def write_off(*, form: Form, by: User, on: date) -> None:
    """Look no more for a missing blank whose alarm is over. Refused: alarm_is_open, no_such_move.

    Its serial stays, as one that counts for nothing whoever signs it.
    """
    alarms = MissingBlank.objects.filter(form=form)
    is_over = alarms.exists() and not alarms.filter(alarm__closed_on=None).exists()
    papers.step(form, to=State.WRITTEN_OFF, on=on, alarm_is_closed=is_over)


@transaction.atomic
def close(*, trip: Trip, by: User, on: date) -> Stay:
    """Close a trip on which everything came home; a second press finds it closed.

    Refused: trip_not_over, and what `rules.open_ends` names.
    """
    stay = _stay(trip)
    if stay.closed_on is not None:
        return stay
    if on < trip.last_day:
        raise Refused("trip_not_over")
    if codes := queries.home(trip).open_ends:
        raise Refused(*codes)
    stay.closed_on, stay.closed_by = on, by
    stay.save()
    return stay


def _stay(trip: Trip) -> Stay:
    return Stay.objects.filter(trip=trip).first() or Stay(trip=trip)
