"""Phone lines, and the marks of numbers that may never be rung."""

from datetime import date, datetime
from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from relations.privacy import log
from relations.privacy.fields import mark, marks
from relations.privacy.models import Mending, Role
from relations.privacy.refused import Refused

from . import phones, queries
from .models import NeverRing, Participant, PhoneLine
from .values import Standing

if TYPE_CHECKING:
    from relations.privacy.models import User


@transaction.atomic
def add_line(
    *,
    person: Participant,
    typed: str,
    country: str | None,
    by: "User",
    at: datetime,
    is_shared: bool = False,
    through: Participant | None = None,
    zone: str = "",
    keep_raw: bool = False,
) -> PhoneLine:
    """Note a number as typed and as E.164, or that a person is reached `through` somebody.

    `country` is ISO 3166-1 alpha-2, or None where it is not known. A number that others have too
    is marked as shared on every one of them. `keep_raw` keeps what cannot be read, not to be rung.
    Refused: the problem of `phones.read`, never_ring, already_theirs, by_themselves.
    """
    if through == person:
        raise Refused("by_themselves")
    if through is not None and not typed.strip():
        return PhoneLine.objects.create(
            person=person, as_typed="", through=through, is_shared=True, zone=zone
        )
    reading = phones.read(typed, country)
    if reading.e164 is None:
        if not keep_raw or reading.problem == "empty":
            raise Refused(reading.problem)
        return PhoneLine.objects.create(
            person=person, as_typed=typed, is_shared=is_shared, through=through, zone=zone
        )
    if queries.may_not_be_rung(reading.e164, person):
        raise Refused("never_ring")
    key = mark(reading.e164)
    if person.lines.filter(mark=key).exists():
        raise Refused("already_theirs")
    others = PhoneLine.objects.filter(mark=key, ended_on=None)
    return PhoneLine.objects.create(
        person=person,
        as_typed=typed,
        number=reading.e164,
        extension=reading.extension,
        mark=key,
        # Counted as they are marked: one statement says both.
        is_shared=bool(others.update(is_shared=True)) or is_shared or through is not None,
        through=through,
        zone=zone,
    )


@transaction.atomic
def end_line(*, line: PhoneLine, on: date, by: "User") -> None:
    """Note that a number does not reach a person any more."""
    line.ended_on = on
    line.save(update_fields=["ended_on"])


@transaction.atomic
def never_ring(
    *, person: Participant, by: "User", at: datetime, line: PhoneLine | None = None
) -> NeverRing:
    """Mark every number of a person as never to be rung again, at once; anyone may.

    `line` is the one on which it was said: its mark is given back. On a shared line the mark
    stands for number and person, until the artist settles the whole number. A person without
    a number is marked all the same. Said twice it is one mark. Source: job.md A 9, F1, F14.
    """
    laid = queries.never_ring_marks(person).exclude(was="")
    if not laid.exists():
        numbers = {bytes(row.mark): row.is_shared for row in person.lines.all() if row.mark}
        numbers = numbers or {mark(f"person {person.log_key}"): True}
        for key, is_shared in numbers.items():
            NeverRing.objects.create(
                mark=key,
                who=person.log_key,
                whole_number=not is_shared,
                at=at,
                by=by,
                was=person.standing,
            )
        person.standing = Standing.NEVER_RING
        person.standing_since = timezone.localdate(at)
        person.save(update_fields=["standing", "standing_since"])
    heard_on = laid.filter(mark__in=marks(line.number)) if line and line.number else laid
    return heard_on.first() or laid.latest("at")


@transaction.atomic
def undo_never_ring(*, mark: NeverRing, by: "User", at: datetime) -> None:
    """Take back a slip within 24 hours: the person stands where they stood.

    Refused: artist_or_keeper, day_is_over.
    """
    if not by.is_one_of(Role.ARTIST, Role.KEEPER):
        raise Refused("artist_or_keeper")
    if mark.who is None or not mark.was or at >= mark.at + queries.A_DAY:
        raise Refused("day_is_over")
    person = Participant.objects.get(log_key=mark.who)
    person.standing, person.standing_since = mark.was, timezone.localdate(at)
    person.save(update_fields=["standing", "standing_since"])
    queries.never_ring_marks(person).update(undone_at=at, was="")


@transaction.atomic
def settle_shared(*, mark: NeverRing, by: "User") -> None:
    """Settle that a shared number as a whole may never be rung. Refused: artist_only."""
    if not by.is_artist:
        raise Refused("artist_only")
    mark.whole_number = True
    mark.save(update_fields=["whole_number"])


@transaction.atomic
def let_never_rings_go(*, at: datetime) -> int:
    """Erase name and number of those who asked 24 hours ago never to be rung; give how many.

    The keyed marks stay. Who has sat keeps the names that their forms and prints speak of; their
    numbers go. On a whole number nothing says any more whose it was.
    """
    due = NeverRing.objects.filter(undone_at=None, at__lte=at - queries.A_DAY).exclude(was="")
    stood = {who: was for who, was in due.values_list("who", "was") if who}
    people = Participant.objects.filter(log_key__in=stood)
    for person in people:
        _erase(person, keep_names=stood[person.log_key] in queries.SAT)
    due.filter(whole_number=True).update(was="", who=None)
    NeverRing.objects.filter(who__in=stood, undone_at=None).update(was="")
    return len(people)


def _erase(person: Participant, *, keep_names: bool) -> None:
    keys = [*person.lines.values_list("pk", flat=True)]
    person.lines.all().delete()
    old = Mending.objects.filter(about=person.log_key)
    person.instruction = person.may_say = ""
    person.safe_hours, person.safe_days = [], []
    if keep_names:
        old = old.filter(key__in=keys)
    else:
        person.names.all().delete()
        person.call_name = person.born_said = ""
        person.born_earliest = person.born_latest = None
    person.save()
    old.delete()
    log.note(None, "erased", "person", person.log_key)
