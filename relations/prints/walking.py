"""What is done about rounds: planned, set out, and typed in door by door, each once."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime, time

from django.db import IntegrityError, transaction
from django.utils import timezone

from relations.people.models import InSight, Why
from relations.people.newcomers import wants_another
from relations.privacy.models import Role, User
from relations.privacy.refused import Refused

from . import actions, doors, queries, walks
from .doors import AtDoor
from .models import Print, QuarterMinutes, Round, RoundDoor
from .rules import PrintState

LETTERS = "ABCDEFGHIJ"


@transaction.atomic
def keep_minutes(*, start: str, end: str, minutes: int, by: User) -> QuarterMinutes:
    """Note the minutes from one quarter to another, over what was noted before."""
    row, _is_new = QuarterMinutes.objects.update_or_create(
        start=start, end=end, defaults={"minutes": minutes}
    )
    return row


@transaction.atomic
def plan_round(
    *,
    prints: Sequence[Print],
    on: date,
    starts_at: time,
    walker: User,
    at: datetime,
    ends_by: time | None = None,
    starts_in: str = "",
) -> Round:
    """Put prints on a round in the order of F16, each under its letter; nothing is moved yet.

    Whoever walks has those people in sight on that day. Refused: day_gone, round_meanwhile,
    wants_another (than whoever walks), not_all_reached, and as `walks.span` and `walks.plan`.
    """
    if on < timezone.localdate(at):
        raise Refused("day_gone")
    if any(wants_another(row.person, walker) for row in prints):
        raise Refused("wants_another")
    span = walks.span(on=on, starts_at=starts_at, ends_by=ends_by, starts_in=starts_in)
    walk = walks.plan(prints, span)
    if walk.left:
        raise Refused("not_all_reached")
    made = _begin(on=on, by=walker, starts_at=starts_at, starts_in=starts_in, ends_by=ends_by)
    by_key = {str(row.pk): row for row in prints}
    RoundDoor.objects.bulk_create(
        RoundDoor(round=made, print=by_key[key], letter=letter, due_at=walks.as_hour(minute))
        for letter, (key, minute) in zip(LETTERS, walk.stops, strict=False)
    )
    if walker.is_one_of(Role.ASSISTANT):
        for row in prints:
            InSight.objects.get_or_create(
                person=row.person, user=walker, day=on, why=Why.PRINT.value
            )
    return made


def _begin(**said: object) -> Round:
    """A round under the next code; somebody else may take it at the same moment."""
    try:
        with transaction.atomic():
            return Round.objects.create(code=walks.next_code(), **said)
    except IntegrityError as taken:
        raise Refused("round_meanwhile") from taken


@transaction.atomic
def set_out(*, round: Round, by: User, at: datetime) -> Round:
    """Every print of a round goes out, dated by the round's day; a second press finds it gone.

    All or none. Refused with one code for each door that stands against it, its letter before a
    colon: "B:safe_way"; the codes are those of a step, and out_already. no_doors: called off.
    """
    held = Round.objects.select_for_update().get(pk=round.pk)
    if held.set_out_at is not None:
        return held
    if not held.doors.exists():
        raise Refused("no_doors")
    against = [code for door in held.doors.all() for code in _out(door, held, by, at)]
    if against:
        raise Refused(*against)
    held.set_out_at = at
    held.save(update_fields=["set_out_at"])
    return held


def _out(door: RoundDoor, held: Round, by: User, at: datetime) -> Iterable[str]:
    """Put one print on its way; the codes of what stands against it."""
    row = Print.objects.select_for_update().get(pk=door.print_id)
    if queries.is_left_alone(row.person):
        return [f"{door.letter}:left_alone"]
    if wants_another(row.person, held.by):
        return [f"{door.letter}:wants_another"]
    if row.state == PrintState.OUT_ON_A_ROUND:
        if row.doors.filter(walks.OPEN).exists():
            return [f"{door.letter}:out_already"]
    else:
        try:
            actions.step(print=row, to=PrintState.OUT_ON_A_ROUND, on=held.on, by=by, at=at)
        except Refused as no:
            return [f"{door.letter}:{code}" for code in no.codes]
    row.round = held
    row.save(update_fields=["round"])
    return []


@transaction.atomic
def call_off(*, round: Round, by: User) -> Round:
    """Let the doors of a round go that has not set out; a second press finds none.

    Its row stays, so that its code, which may stand on a sheet, is never given again. Whom
    the walker sees on that day stays: other work of the day may need it. Refused: set_out_already.
    """
    held = Round.objects.select_for_update().get(pk=round.pk)
    if held.set_out_at is not None:
        raise Refused("set_out_already")
    held.doors.all().delete()
    return held


@transaction.atomic
def note_door(
    *, door: RoundDoor, came: str, on: date, by: User, at: datetime, reason: str = ""
) -> RoundDoor:
    """Note what came of one door, with every step of its print that follows, dated by the event.

    The door is its own once-only token, whoever types it. Refused: typed_already, not_set_out,
    noted_already (on another page meanwhile), before_the_round, and as a step is.
    """
    held = RoundDoor.objects.select_for_update().get(pk=door.pk)
    row = Print.objects.select_for_update().get(pk=held.print_id)
    if held.came:
        raise Refused("typed_already")
    if held.round.set_out_at is None:
        raise Refused("not_set_out")
    if not walks.is_out_on(row, held.round):
        raise Refused("noted_already")
    if on < held.round.on:
        raise Refused("before_the_round")
    if on > timezone.localdate(at):
        raise Refused("day_in_future")
    what = AtDoor(came)
    for to in doors.steps(what, row.tries):
        actions.step(print=row, to=to, on=on, by=by, at=at, reason=reason)
    held.came, held.typed_at, held.typed_by = what, at, by
    held.save(update_fields=["came", "typed_at", "typed_by"])
    return held


# What was typed of one door: what came of it, and a word beside it.
Said = tuple[RoundDoor, str, str]


def note_all(
    lines: Iterable[Said], *, on: date, by: User, at: datetime
) -> tuple[list[str], dict[str, Refused]]:
    """Note doors, each for itself: the letters that are stored, and those that are refused."""
    stored: list[str] = []
    refused: dict[str, Refused] = {}
    for door, came, reason in lines:
        try:
            note_door(door=door, came=came, on=on, by=by, at=at, reason=reason)
        except Refused as no:
            refused[door.letter] = no
        else:
            stored.append(door.letter)
    return stored, refused


def door_of(code: str, letter: str) -> RoundDoor | None:
    """The door of a round by its letter; None where there is none."""
    found = RoundDoor.objects.filter(round__code=code, letter=letter)
    return found.select_related("print__person", "print__picture", "round").first()
