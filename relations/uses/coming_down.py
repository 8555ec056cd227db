"""What must come down now: what was put on the undo list, and what asks for it without a press.

A hold, an arrest, a death and an end are noted in rooms below this one, which know no uses. So
nothing is written for them: the list is worked out when it is looked at, and goes by itself when
the hold is lifted or the person answers again. A press on a line keeps it.
"""

from collections import defaultdict
from collections.abc import Iterable
from datetime import datetime
from typing import NamedTuple
from uuid import UUID, uuid5

from django.db.models import F, QuerySet
from django.utils import timezone

from relations.consent import queries as consent
from relations.consent.values import Person
from relations.people.access import of
from relations.people.models import Participant, PersonHold
from relations.pictures.models import Appearance, Picture, PictureHold

from . import causes
from .causes import Because, Seen
from .models import Shown, UndoLine
from .rules import Force

# Under which a line that nobody pressed yet has the same key on every look.
SPACE = UUID("5f5b0c6e-6f39-4f6c-9a61-3d1b2f8f5c11")
Holds = dict[UUID, list[datetime]]


class Hung(NamedTuple):
    """One person in one picture in one use of the register."""

    shown: Shown
    picture: Picture
    person: Participant


def lines(people: QuerySet[Participant], at: datetime) -> list[UndoLine]:
    """All that must come down of these people, soonest first; done ones too, as they were kept.

    A fixed number of queries. A line that was pressed for a reason which is gone is left out
    until it is done: nothing must come down any more.
    """
    kept = list(_kept(people))
    asked = _asked(people, at)
    keys = {line.pk for line in asked}
    stays = [line for line in kept if _still_holds(line, keys)]
    have = {_of(line) for line in stays if line.done_on is None}
    done = {line.pk for line in stays}
    new = [line for line in asked if line.pk not in done and _of(line) not in have]
    return sorted([*stays, *new], key=_soonest)


def waiting(found: Iterable[UndoLine]) -> list[UndoLine]:
    """Those that somebody must still do something about."""
    return [line for line in found if line.done_on is None and line.force != Force.CANNOT]


def _soonest(line: UndoLine) -> tuple[bool, float, str, str, str, str]:
    due = line.due_at.timestamp() if line.due_at else 0.0
    about = line.shown.code, line.picture.code, line.person.code
    return (line.due_at is None, due, *about, line.code)


def _of(line: UndoLine) -> tuple[object, object, object, str]:
    return line.shown_id, line.picture_id, line.person_id, line.code


def _still_holds(line: UndoLine, keys: set[UUID]) -> bool:
    return line.done_on is not None or line.because == Because.TAKEN_BACK or line.pk in keys


def _kept(people: QuerySet[Participant]) -> QuerySet[UndoLine]:
    found = UndoLine.objects.filter(of(people))
    return found.select_related("shown", "picture", "person").order_by("opened_at")


def _asked(people: QuerySet[Participant], at: datetime) -> list[UndoLine]:
    """What a hold, an arrest, a death or an end asks for; none of it is in the register yet."""
    hung = _hung(people)
    if not hung:
        return []
    on, local = timezone.localdate(at), timezone.localtime(at)
    found = consent.load({one.picture.pk for one in hung}, on)
    sittings = {picture.id: picture.sitting for picture in found.pictures}
    held, pictures = _holds(PersonHold, "person"), _holds(PictureHold, "picture")
    made: dict[tuple[object, object, object, str], UndoLine] = {}
    for one in hung:
        since = (*held[one.person.pk], *pictures[one.picture.pk])
        seen = _seen(one, sittings[one.picture.code], since)
        for line in _lines(one, found.people[one.person.code], seen, local):
            made.setdefault(_of(line), line)
    return list(made.values())


def _hung(people: QuerySet[Participant]) -> list[Hung]:
    through = Shown.pictures.through.objects.filter(picture__appearances__person__in=people)
    rows = list(through.select_related("shown", "picture").order_by("pk").distinct())
    frames: dict[object, list[Participant]] = defaultdict(list)
    seen = Appearance.objects.filter(picture__in={row.picture_id for row in rows})
    for one in seen.filter(of(people)).select_related("person").order_by():
        frames[one.picture_id].append(one.person)
    return [
        Hung(row.shown, row.picture, person) for row in rows for person in frames[row.picture_id]
    ]


def _holds(table: type[PersonHold] | type[PictureHold], of: str) -> Holds:
    """Since when a hold lies, by the key of what it lies on."""
    found: Holds = defaultdict(list)
    rows = table._default_manager.filter(lifted_at=None).order_by()
    for key, laid_at in rows.values_list(F(of), "laid_at"):
        found[key].append(timezone.localtime(laid_at))
    return found


def _seen(one: Hung, sitting: str, held_since: tuple[datetime, ...]) -> Seen:
    shown = one.shown
    return Seen(
        shown.use, sitting, shown.starts_on, shown.ends_on, shown.press_day, tuple(held_since)
    )


def _lines(one: Hung, known: Person, seen: Seen, at: datetime) -> Iterable[UndoLine]:
    """Each line once, for the gravest reason that asks for it."""
    for cause in causes.causes(known, seen, at=at):
        for line in causes.lines(seen, cause, one.person.level or None):
            about = f"{one.shown.pk} {one.picture.pk} {one.person.pk} {line.code}"
            yield UndoLine(
                id=uuid5(SPACE, f"{about} {cause.because} {cause.since.isoformat()}"),
                shown=one.shown,
                picture=one.picture,
                person=one.person,
                code=line.code,
                force=line.force,
                because=cause.because,
                opened_at=min(cause.since, at),
                due_at=line.due_at,
            )
