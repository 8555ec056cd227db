"""Laying out a day: who comes into an assistant's sight, and for what work."""

from collections.abc import Iterator
from datetime import date

from django.db import transaction

from relations.people.models import InSight, Participant, Why
from relations.people.newcomers import who_want_another
from relations.people.values import Standing
from relations.prints.queries import to_ask_again, trip_on
from relations.privacy.home import now
from relations.privacy.models import Role, User

from . import queries

# Of whom nothing is left to do.
GONE = (Standing.LET_GO, Standing.CLOSED)


@transaction.atomic
def lay_out_the_day(*, user: User, on: date) -> int:
    """Put in an assistant's sight whoever the work of the day is about; give how many came new.

    Planned rings due, meetings within 48 hours, doorsteps, forms to read, prints to move, kept
    ones to ask about on a trip, and stops. Doing so twice is once; for other roles nothing is
    written. Whoever left the day's work stays in sight until it ends. `on` is today, or a day whose
    rows are asked for.
    """
    if not user.is_one_of(Role.ASSISTANT):
        return 0
    seen = set(InSight.objects.filter(user=user, day=on).values_list("person", "why"))
    fresh = {(person.pk, str(why)) for person, why in _work(user, on)} - seen
    InSight.objects.bulk_create(
        (InSight(person_id=key, user=user, day=on, why=why) for key, why in fresh),
        ignore_conflicts=True,
    )
    return len(fresh)


def _work(user: User, on: date) -> Iterator[tuple[Participant, str]]:
    everyone = Participant.objects.exclude(standing__in=GONE)
    # Who does not want this assistant is the artist's work.
    everyone = everyone.exclude(pk__in=who_want_another(user).values("person"))
    for stop in queries.stops(everyone):
        yield stop.person, Why.STOP
    for meeting in queries.meetings(everyone, now()):
        yield meeting.person, Why.MEETING
    for out in queries.doorsteps(everyone):
        yield out.person, Why.PRINT
    for ring in queries.rings_planned(everyone, on):
        yield ring.person, Why.RING
    for form in queries.forms(everyone, user):
        if form.person is not None:
            yield form.person, Why.FORM
    for row in queries.from_the_lab(everyone):
        yield row.person, Why.PRINT
    moves, _more = queries.prints(everyone, on)
    for move in moves:
        yield move.print.person, Why.PRINT
    trip = trip_on(on)
    for row in to_ask_again(everyone, trip)[: queries.MOST_PRINTS] if trip else ():
        yield row.person, Why.PRINT
