"""The talk about uses with whoever decides once they hold the print: never a trade for it."""

from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Exists, OuterRef, QuerySet

from relations.consent.models import Form, TakenBack
from relations.consent.states import NOT_GIVEN, State
from relations.consent.values import Scope
from relations.people.models import Participant, PersonHold
from relations.people.values import Condition, Standing
from relations.prints.models import Print
from relations.prints.rules import IN_THEIR_HANDS

# A form in one of these states that allows nothing is "not yet": they hold the print first.
STANDS = (State.STANDING, State.WITHDRAWN_IN_PART)
# So long after the print came there a talk is still offered; later it is a new beginning, and
# nobody is to be asked for ever (common practice, no source).
OFFERED_FOR = timedelta(days=90)


@dataclass(frozen=True)
class Offer:
    """Somebody who holds their print and has not said what may be done with the picture."""

    person: Participant
    since: date


def undecided(people: QuerySet[Participant]) -> QuerySet[Participant]:
    """Those who take part and have decided on no use: no form, or one that allows nothing yet.

    A form that was given and is not read yet is a decision, and so is taking everything back.
    """
    given = Form.objects.filter(person=OuterRef("pk")).exclude(state__in=NOT_GIVEN)
    decided = given.exclude(state__in=STANDS, uses=[])
    taken = TakenBack.objects.filter(person=OuterRef("pk"), scope=Scope.ALL)
    held = PersonHold.objects.filter(person=OuterRef("pk"), lifted_at=None)
    asked = people.filter(standing=Standing.TAKING_PART, condition=Condition.WELL)
    return asked.filter(~Exists(decided), ~Exists(taken), ~Exists(held))


def second_talks(people: QuerySet[Participant], on: date) -> list[Offer]:
    """To whom the second talk may be offered now, longest in hand first (job.md row 32)."""
    rows = Print.objects.filter(
        person__in=undecided(people), state__in=IN_THEIR_HANDS, state_on__gte=on - OFFERED_FOR
    )
    found: dict[object, Offer] = {}
    for row in rows.select_related("person").order_by("state_on", "person__code"):
        found.setdefault(row.person_id, Offer(row.person, row.state_on))
    return list(found.values())
