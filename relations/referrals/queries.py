"""The introductions as codes, days and waves: the only read of the whole web."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from django.db.models import Min, QuerySet

from relations.meetings.models import Call, Meeting
from relations.meetings.values import MeetingState
from relations.people import access
from relations.people.models import (
    Introduction,
    OutsideIntroducer,
    Participant,
    PersonHold,
)
from relations.people.queries import SAT, communities
from relations.people.rules import counted
from relations.people.values import Precision, Risk, Standing
from relations.prints.models import Print
from relations.prints.rules import ENDS, PrintState

from . import graph
from .graph import Reached, Web, Word, came_of, told_of
from .values import Known, Person

if TYPE_CHECKING:
    from relations.privacy.models import User

# The standings that nobody has without a meeting, and those that nobody has without being asked.
MET = SAT | {Standing.MET, Standing.SITTING_AGREED}
ASKED = MET | {
    *(Standing.THINKING_IT_OVER, Standing.MEETING_AGREED, Standing.SAID_NO, Standing.NEVER_RING),
}
COLUMNS = (
    *("code", "community__key", "standing", "standing_since", "level"),
    *("asked_to_tell_on", "thanked_on"),
)
TALKED = (MeetingState.HELD, MeetingState.CUT_SHORT, MeetingState.WRITTEN_UP)
IN_HAND = (PrintState.IN_HAND, PrintState.ACKNOWLEDGED)


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
    rows = Introduction.objects.order_by("heard_on", "number", "id").values_list(
        *("person__code", "introducer__code", "outside__code"),
        *("heard_on", "wave", "is_withheld", "precision"),
    )
    return [
        Word(
            person,
            introducer or outside or "",
            on,
            number,
            wave,
            is_withheld,
            is_exact=precision == Precision.DAY,
        )
        for number, (person, introducer, outside, on, wave, is_withheld, precision) in enumerate(
            rows
        )
    ]


def web() -> Web:
    """All that was heard, worked out; two queries."""
    outside = OutsideIntroducer.objects.values_list("code", flat=True)
    return graph.web(words(), outside)


def known() -> dict[str, Known]:
    """What the answers are worked out of, for everybody, by code; five queries."""
    in_hand, owed = _prints()
    asked = _codes(Call.objects.exclude(at=None).filter(by_them=False))
    met = _codes(Meeting.objects.filter(state__in=TALKED))
    held = _codes(PersonHold.objects.filter(lifted_at=None))
    found = {}
    # Plain columns only: no sealed field is opened for this.
    people = Participant.objects.order_by("code").values(*COLUMNS)
    for one in people.annotate(sat_on=Min("sittings__on")):
        code, standing = one["code"], Standing(one["standing"])
        has_sat = one["sat_on"] is not None or standing in SAT
        was_met = has_sat or standing in MET or code in met
        found[code] = Known(
            code=code,
            community=one["community__key"] or "",
            standing=standing,
            level=counted(Risk(one["level"]) if one["level"] else None),
            has_sat=has_sat,
            has_print=code in in_hand,
            sat_on=one["sat_on"],
            owes_print=code in owed,
            was_asked=was_met or standing in ASKED or code in asked,
            was_met=was_met,
            since=one["standing_since"],
            asked_to_tell_on=one["asked_to_tell_on"],
            thanked_on=one["thanked_on"],
            is_held=code in held,
        )
    return found


def _codes(rows: QuerySet[Any]) -> set[str]:
    """The codes of the people of these rows."""
    return set(rows.order_by().values_list("person__code", flat=True).distinct())


def _prints() -> tuple[set[str], set[str]]:
    """Whose print is in hand, and to whom one is owed."""
    in_hand, owed = set(), set()
    for code, state in Print.objects.order_by().values_list("person__code", "state"):
        if state in IN_HAND:
            in_hand.add(code)
        elif state not in ENDS:
            owed.add(code)
    return in_hand, owed


def hopes() -> dict[str, int | None]:
    """How many sitters of each group are hoped for, by key, in the order of their names."""
    return {one.key: one.hoped_for for one in communities()}


def group_names() -> dict[str, str]:
    """The neutral name of each group by its key, in the order of the names."""
    return {one.key: one.name for one in communities()}


def outside_thanked() -> dict[str, date | None]:
    """When each of those outside was last thanked, by code."""
    return dict(OutsideIntroducer.objects.order_by("code").values_list("code", "thanked_on"))


def introducer_or_404(user: "User", code: str) -> Participant | OutsideIntroducer:
    """Whoever told us of somebody, of the project or from outside; Http404 where nobody has it."""
    return OutsideIntroducer.objects.filter(code=code).first() or access.person(user, code)


def drawn(known: Iterable[Known]) -> dict[str, Person]:
    """Everybody as a mark labelled by code."""
    return {
        one.code: Person(one.code, one.code, one.community, one.has_sat, one.has_print)
        for one in known
    }


def introductions() -> list[Line]:
    """Everybody who was reached, in the order of being reached; two queries."""
    found = web()
    told, came = told_of(found.reached), came_of(found.reached)
    return [
        Line(code, one, told[code], came[code], is_outside=one.first in found.outside)
        for code, one in found.reached.items()
    ]
