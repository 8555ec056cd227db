"""Life changes: a new name, whose old ones are never printed again, and a move abroad."""

from datetime import date, datetime
from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from relations.privacy.refused import Refused

from .models import MovedAbroad, Name, NameKind, Participant

if TYPE_CHECKING:
    from relations.privacy.models import User


@transaction.atomic
def new_name(
    *, person: Participant, text: str, script: str, call_name: str, by: "User", at: datetime
) -> Name:
    """Give somebody a new name: every name they had before is never to be printed from now on.

    What to call them was an old name too: it joins them, unless it stays. Refused: same_name,
    artist_only.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    before = list(person.names.exclude(kind=NameKind.NEVER_PRINT))
    if text in {name.text for name in before}:
        raise Refused("same_name")
    for name in before:
        name.kind = NameKind.NEVER_PRINT
        name.save(update_fields=["kind"])
    known = {name.text for name in person.names.all()}
    old = person.call_name
    if old and old != call_name and old not in known:
        Name.objects.create(person=person, text=old, kind=NameKind.NEVER_PRINT)
    person.call_name = call_name
    person.save(update_fields=["call_name"])
    return Name.objects.create(person=person, text=text, kind=NameKind.OWN, script=script)


@transaction.atomic
def moved_abroad(*, person: Participant, since: date, by: "User", at: datetime) -> MovedAbroad:
    """Note that somebody lives in another country now; where, is not kept.

    In which countries they may be shown is asked again. The same day twice is once.
    Refused: in_the_future.
    """
    if since > timezone.localdate(at):
        raise Refused("in_the_future")
    found, _is_new = MovedAbroad.objects.get_or_create(person=person, since=since)
    return found


@transaction.atomic
def asked_again(*, person: Participant, on: date, by: "User") -> int:
    """Note that territory was asked again after every move; give how many moves it was.

    What they said goes on a form; this only ends the reminder.
    """
    return person.moves_abroad.filter(asked_again_on=None, since__lte=on).update(asked_again_on=on)


def to_be_asked(person: Participant) -> MovedAbroad | None:
    """The newest move after which nobody has asked in which countries they may be shown."""
    return person.moves_abroad.filter(asked_again_on=None).first()
