"""Phone lines, and the marks of numbers that may never be rung."""

from datetime import date, datetime
from typing import TYPE_CHECKING

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from relations.privacy import log
from relations.privacy.fields import mark, marks
from relations.privacy.models import Mending, Role
from relations.privacy.refused import Refused

from . import phones, queries, zones
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
    note: str = "",
    keep_raw: bool = False,
) -> PhoneLine:
    """Note a number as typed and as E.164, or that a person is reached `through` somebody.

    `country` is ISO 3166-1 alpha-2, or None where it is not known. A number that others have too
    is marked as shared on every one of them. `keep_raw` keeps what cannot be read, not to be rung.
    `note`: the words beside the number. `zone` (IANA) is filled in where the number's country has
    but one clock. What may never be rung is refused to every role, wherever in the line it stands.
    Refused: the problem of `phones.read`, never_ring, already_theirs, by_themselves.
    """
    if through == person:
        raise Refused("by_themselves")
    row = PhoneLine(
        person=person, as_typed=typed, note=note, is_shared=is_shared, through=through, zone=zone
    )
    if through is not None and not typed.strip():
        return _only_through(row, through)
    reading = phones.read(typed, country)
    if reading.e164 is None and (not keep_raw or reading.problem == "empty"):
        raise Refused(reading.problem)
    if any(queries.may_not_be_rung(one, person) for one in _numbers(reading, note, country)):
        raise Refused("never_ring")
    if reading.e164 is not None:
        row.number, row.extension = reading.e164, reading.extension
        row.mark = mark(reading.e164)
        row.zone = zone or _only_zone(reading.e164, timezone.localdate(at))
        if person.lines.filter(mark=row.mark).exists():
            raise Refused("already_theirs")
        others = PhoneLine.objects.filter(mark=row.mark, ended_on=None)
        # Counted as they are marked: one statement says both.
        row.is_shared = bool(others.update(is_shared=True)) or is_shared or through is not None
    row.save()
    return row


def _only_through(row: PhoneLine, through: Participant) -> PhoneLine:
    """A person without a telephone of their own: whoever reaches them gives the clock too."""
    theirs = through.lines.filter(ended_on=None).exclude(zone="").order_by("pk").first()
    row.as_typed, row.is_shared = "", True
    row.zone = row.zone or (theirs.zone if theirs else "")
    row.save()
    return row


def _numbers(reading: phones.Reading, note: str, country: str | None) -> set[str]:
    """What must not be among the numbers never to be rung: read, kept raw, or put in a note."""
    countries = {country, settings.RELATIONS_COUNTRY}
    texts = (note,) if reading.e164 else (reading.kept_raw, note)
    found = {one for text in texts for each in countries for one in phones.numbers_in(text, each)}
    return found | {reading.e164} if reading.e164 else found


def _only_zone(e164: str, on: date) -> str:
    known = zones.of_number(e164, on)
    return known[0] if len(known) == 1 else ""


@transaction.atomic
def set_zone(*, line: PhoneLine, zone: str, by: "User") -> None:
    """Note by which clock (IANA) somebody lives where this line reaches them."""
    line.zone = zone
    line.save(update_fields=["zone"])


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
