"""The door: every row about a person is asked for here, and absent and not yours are the same."""

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING
from uuid import UUID

from django.db.models import QuerySet
from django.http import Http404

from relations.languages.codes import tidy
from relations.privacy.home import today
from relations.privacy.log import note
from relations.privacy.models import Role

from . import phones
from .models import Participant, PhoneLine

if TYPE_CHECKING:
    from django.contrib.auth.models import AnonymousUser

    from relations.privacy.models import User


@dataclass(frozen=True)
class Number:
    """A number opened for one look: as it was typed, as it is read aloud, and what dials it."""

    typed: str
    shown: str
    link: str


def people(user: "User | AnonymousUser", on: date | None = None) -> QuerySet[Participant]:
    """Those whom `user` may see on a day (today): the artist all, the assistant those in sight.

    Wording readers, keepers and strangers see nobody (job.md 4).
    """
    role = getattr(user, "role", "")
    if role == Role.ARTIST:
        return Participant.objects.all()
    if role == Role.ASSISTANT:
        day = today() if on is None else on
        return Participant.objects.filter(in_sight__user=user.pk, in_sight__day=day).distinct()
    return Participant.objects.none()


def somebody(user: "User | AnonymousUser", code: str) -> Participant | None:
    """The person with this code, typed in any case. None where absent or out of sight."""
    return people(user).filter(code=tidy(code)).select_related("community").first()


def person(user: "User | AnonymousUser", code: str) -> Participant:
    """The person with this code, typed in any case. Http404 where absent or out of sight."""
    found = somebody(user, code)
    if found is None:
        raise Http404
    return found


def in_sight(user: "User | AnonymousUser", person: Participant, on: date | None = None) -> bool:
    """Whether `user` may see this person on that day (today)."""
    return people(user, on).filter(pk=person.pk).exists()


def line(user: "User | AnonymousUser", code: str, key: UUID) -> PhoneLine:
    """One phone line of a person in sight, closed. Http404 where absent or out of sight."""
    found = PhoneLine.objects.filter(person=person(user, code), pk=key).first()
    if found is None:
        raise Http404
    return found


def note_read(user: "User", kind: str, person: Participant) -> None:
    """Leave a line in the access log: a phone, place, scan, map or names were looked at.

    `kind` is "phone", "place", "scan", "map" or "names"; the line holds no value.
    """
    note(user, "read", kind, person.log_key)


def show_number(user: "User", line: PhoneLine) -> Number:
    """Open one number for one look, and leave a line in the access log. Not for lists."""
    note_read(user, "phone", line.person)
    if not line.number:
        return Number(line.as_typed, line.as_typed, "")
    return Number(
        line.as_typed,
        phones.international(line.number, line.extension),
        phones.link(line.number, line.extension),
    )
