"""Reads of rounds: what may go on one, between which hours, and what stands on each."""

from collections.abc import Container, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time
from typing import TYPE_CHECKING
from uuid import UUID

from django.db.models import Count, F, Q, QuerySet
from django.http import Http404

from relations.languages.daylight import Light
from relations.languages.sorting import by_name
from relations.meetings import light
from relations.people.access import people
from relations.people.models import PersonHold
from relations.people.newcomers import wants_another
from relations.privacy.refused import Refused

from . import queries, rounds
from .models import Print, QuarterMinutes, Round, RoundDoor
from .rounds import AT_A_DOOR, Door, Span, Walk
from .rules import TRIES, PrintState

if TYPE_CHECKING:
    from relations.privacy.models import User

# Where a print can be from which it goes out on a round; one that is out and was not brought too.
READY = (
    PrintState.CHECKED,
    PrintState.NOT_HOME,
    PrintState.LOOKING_FOR_A_WAY,
    PrintState.KEPT_FOR_THEM,
    PrintState.OUT_ON_A_ROUND,
)
# Doors of which it is still to be said what came of them: their print is out on that very round.
# One that was noted on the page of its print meanwhile is open no more.
OPEN = Q(came="", print__state=PrintState.OUT_ON_A_ROUND, print__round=F("round"))


@dataclass(frozen=True)
class Candidate:
    """A print that could go on a round, and the codes of what it lacks: () is nothing.

    safe_way, quarter, left_alone, two_tries.
    """

    print: Print
    lacks: tuple[str, ...]


def candidates(user: "User") -> list[Candidate]:
    """The prints of those in sight that could go on a round, the longest owed first.

    One that is kept for them stands here only where a safe way was agreed since: kept is a full
    answer, of which nothing is lacking.
    """
    found = queries.prints(user).filter(state__in=READY).order_by("owed_since", "person__code")
    is_open = set(RoundDoor.objects.filter(OPEN).values_list("print", flat=True))
    held = set(PersonHold.objects.filter(lifted_at=None).values_list("person", flat=True))
    rows = [row for row in found if row.pk not in is_open and _is_asked(row)]
    return [Candidate(row, tuple(_lacks(row, held))) for row in rows]


def _is_asked(row: Print) -> bool:
    return row.state != PrintState.KEPT_FOR_THEM or row.is_safe is True


def _lacks(row: Print, held: Container[UUID]) -> Iterable[str]:
    if row.person_id in held or row.person.standing in queries.LEFT_ALONE:
        yield "left_alone"
    if row.state == PrintState.NOT_HOME and row.tries >= TRIES:
        yield "two_tries"
    if row.is_safe is not True:
        yield "safe_way"
    if not row.quarter:
        yield "quarter"


def is_grave(row: Print) -> bool:
    """Whether a print stands on no sheet with a name, also where its mark is still to be set.

    For paper alone: no byte of an assistant's page may depend on a level, only on the mark.
    """
    return row.not_at_the_lab or queries.is_grave(row.person, row.picture)


def minutes() -> dict[tuple[str, str], int]:
    """The minutes between quarters, as they were noted."""
    rows = QuarterMinutes.objects.values_list("start", "end", "minutes")
    return {(start, end): number for start, end, number in rows}


def quarters(also: str | None = None) -> list[str]:
    """The quarters that were noted, and one more where it is named, by name."""
    found = {name for pair in minutes() for name in pair}
    return by_name(found | {also} if also else found)


def daylight(on: date) -> Light | None:
    """The light of a day where we work; None where no place is kept for any trip."""
    return light.of_day(on)


def span(*, on: date, starts_at: time, ends_by: time | None, starts_in: str = "") -> Span:
    """The time there is for a round: inside the daylight, and inside what was typed.

    Refused: which_end (no sunset is known and no end was typed), before_light, no_daylight.
    """
    day, begins = daylight(on), of_hour(starts_at)
    dark = of_hour(day.set.time()) if day and day.set else None
    ends = [one for one in (dark, of_hour(ends_by) if ends_by else None) if one is not None]
    if not ends:
        raise Refused("which_end")
    if day and day.rise and begins < of_hour(day.rise.time()):
        raise Refused("before_light")
    if min(ends) < begins + AT_A_DOOR:
        raise Refused("no_daylight")
    return Span(begins, min(ends), starts_in)


def of_hour(at: time) -> int:
    """The minutes since midnight of an hour."""
    return 60 * at.hour + at.minute


def as_hour(minute: int) -> time:
    """The hour of so many minutes since midnight."""
    return time(*divmod(minute, 60))


def plan(prints: Sequence[Print], span: Span) -> Walk:
    """The order for some prints, each known by its key. Refused: no_doors, too_many_doors."""
    if not prints:
        raise Refused("no_doors")
    if len(prints) > rounds.MOST:
        raise Refused("too_many_doors")
    return rounds.plan([_door(row) for row in prints], minutes(), span)


def _door(row: Print) -> Door:
    return Door(
        key=str(row.pk),
        quarter=row.quarter or "",
        opens=of_hour(row.opens_at) if row.opens_at else 0,
        closes=of_hour(row.closes_at) if row.closes_at else rounds.DAY,
    )


def unknown(prints: Iterable[Print], starts_in: str) -> list[tuple[str, str]]:
    """The pairs of quarters of a round whose minutes nobody has noted."""
    names = {row.quarter or "" for row in prints} | ({starts_in} if starts_in else set())
    return rounds.unknown(names, minutes())


def next_code() -> str:
    """The code of the next round: R1, R2, …"""
    return f"R{Round.objects.count() + 1}"


def of_user(user: "User") -> QuerySet[Round]:
    """The rounds of somebody, for the artist all; each with `all_doors` and `open_doors`."""
    found = Round.objects.all() if user.is_artist else Round.objects.filter(by=user)
    is_open = Q(
        doors__came="",
        doors__print__state=PrintState.OUT_ON_A_ROUND,
        doors__print__round=F("pk"),
    )
    found = found.annotate(all_doors=Count("doors"), open_doors=Count("doors", filter=is_open))
    return found.select_related("by").order_by("-on", "-code")


def round_or_404(user: "User", code: str) -> Round:
    """One round of somebody, for the artist any; absent and not theirs are the same Http404."""
    found = of_user(user).filter(code=code).first()
    if found is None:
        raise Http404
    return found


def doors(user: "User", round: Round) -> list[RoundDoor]:
    """The doors of a round in order: of those in sight today or on its day."""
    seen = Q(print__person__in=people(user, round.on)) | Q(print__person__in=people(user))
    found = round.doors.filter(seen).select_related("print__person", "print__picture", "round__by")
    return list(found.order_by("letter"))


def carried(doors: Iterable[RoundDoor]) -> list[RoundDoor]:
    """The doors on the sheets of a round: nobody who does not want whoever walks it."""
    return [door for door in doors if not wants_another(door.print.person, door.round.by)]


def is_open(door: RoundDoor) -> bool:
    """Whether it is still to be said what came of a door; it may have been noted elsewhere."""
    return not door.came and is_out_on(door.print, door.round)


def is_out_on(row: Print, round: Round) -> bool:
    """Whether a print is out on this very round."""
    return row.state == PrintState.OUT_ON_A_ROUND and row.round_id == round.pk


def ends_at(doors: Sequence[RoundDoor]) -> time | None:
    """When the last visit of a round is over."""
    return as_hour(of_hour(doors[-1].due_at) + AT_A_DOOR) if doors else None


def table() -> dict[str, object]:
    """What is noted of the quarters, by name, and the pairs of which nothing is."""
    noted = sorted((start, end, number) for (start, end), number in minutes().items())
    return {"noted": noted, "missing": rounds.unknown(quarters(), minutes())}
