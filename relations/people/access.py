"""The door: every row about a person is asked for here, and absent and not yours are the same."""

from collections import Counter
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, cast
from uuid import UUID

from django.db.models import Exists, OuterRef, QuerySet
from django.http import Http404
from django.utils import timezone

from relations.languages.codes import tidy
from relations.privacy.home import today
from relations.privacy.log import note
from relations.privacy.models import AccessEntry, Role, User

from . import phones, rules
from .models import Participant, PhoneLine
from .newcomers import who_want_another

if TYPE_CHECKING:
    from django.contrib.auth.models import AnonymousUser


@dataclass(frozen=True)
class Number:
    """A number opened for one look: as it was typed, as it is read aloud, and what dials it.

    `today` is how many its reader was shown on this day; `is_told`, that it is too many.
    """

    typed: str
    shown: str
    link: str
    today: int = 0
    is_told: bool = False


@dataclass(frozen=True)
class Shows:
    """Too many numbers shown to one user on one day: the name they sign in with, and how many."""

    username: str
    on: date
    count: int


def people(user: "User | AnonymousUser", on: date | None = None) -> QuerySet[Participant]:
    """Those whom `user` may see on a day (today): the artist all, the assistant those in sight.

    Never somebody who does not want that assistant. Wording readers, keepers and strangers see
    nobody (job.md 4).
    """
    role = getattr(user, "role", "")
    if role == Role.ARTIST:
        return Participant.objects.all()
    if role == Role.ASSISTANT:
        day = today() if on is None else on
        seen = Participant.objects.filter(in_sight__user=user.pk, in_sight__day=day).distinct()
        return seen.exclude(pk__in=who_want_another(cast("User", user)).values("person"))
    return Participant.objects.none()


def of(people: QuerySet[Participant], person: str = "person") -> Exists:
    """Whether a row is about one of these people; `person` is the row's way to its person.

    Asked of each row by its key. To look whether it is in the list of all of them, as `__in` does,
    the embedded database writes that list down anew for each question, however long it is.
    """
    return Exists(people.filter(pk=OuterRef(person)))


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


def note_read(user: User, kind: str, person: Participant) -> None:
    """Leave a line in the access log: a phone, place, scan, map or names were looked at.

    `kind` is "phone", "place", "scan", "map" or "names"; the line holds no value.
    """
    note(user, "read", kind, person.log_key)


def show_number(user: User, line: PhoneLine) -> Number:
    """Open one number for one look, and leave a line in the access log. Not for lists."""
    note_read(user, "phone", line.person)
    count = shown_on(user, _day(timezone.now()))
    typed, shown, link = line.as_typed, line.as_typed, ""
    if line.number:
        shown = phones.international(line.number, line.extension)
        link = phones.link(line.number, line.extension)
    return Number(typed, shown, link, count, rules.too_many(count))


def _numbers_shown(first: date) -> QuerySet[AccessEntry]:
    """The looks at a number from the beginning of that day, in the zone of the home."""
    begin = datetime.combine(first, time.min, timezone.get_default_timezone())
    return AccessEntry.objects.filter(verb="read", kind="phone", at__gte=begin)


def shown_on(user: User, on: date) -> int:
    """How many numbers a user was shown on a day, as the access log says."""
    looks = _numbers_shown(on).filter(by=user.pk).values_list("at", flat=True)
    return sum(_day(at) == on for at in looks)


def shown_too_many(on: date, days: int = 7) -> list[Shows]:
    """Who was shown more numbers than a day allows, on that day or the days before; newest first.

    The days are those of the log, whatever day the home's lists stand on.
    """
    looks = _numbers_shown(on - timedelta(days=days - 1)).exclude(by=None)
    counts = Counter((by, _day(at)) for by, at in looks.values_list("by", "at"))
    past = {key: count for key, count in counts.items() if rules.too_many(count)}
    users = User.objects.in_bulk([by for by, _on in past])
    shows = [
        Shows(users[by].username, day, count)
        for (by, day), count in past.items()
        if by in users and day <= on
    ]
    return sorted(shows, key=lambda one: (-one.on.toordinal(), one.username))


def _day(at: datetime) -> date:
    """The calendar day of a moment, in the zone of the home."""
    return timezone.localdate(at, timezone.get_default_timezone())
