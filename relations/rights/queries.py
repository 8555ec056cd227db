"""Reads of alarms and whom they touch, of requests and what others ask, of closing and backups."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING
from uuid import UUID

from django.db.models import Count, F, Min, QuerySet
from django.http import Http404
from django.utils import timezone

from relations.people.access import people
from relations.people.models import Participant
from relations.people.values import Risk
from relations.pictures.models import Picture
from relations.prints import queries as prints
from relations.prints.models import Print, Promise, Step
from relations.prints.rules import PrintState

from . import closing, rules
from .closing import Ending, Lack
from .models import Alarm, Backup, Closing, Misuse, OthersAsk, Request, RequestKind

if TYPE_CHECKING:
    from relations.privacy.models import User


def alarms() -> QuerySet[Alarm]:
    """Every alarm, open ones first, then the newest; each with `touched`, how many people."""
    found = Alarm.objects.select_related("raised_by").annotate(touched=Count("affected"))
    return found.order_by(F("closed_on").asc(nulls_first=True), "-known_at")


def open_alarms() -> QuerySet[Alarm]:
    """The alarms that are not closed, as `alarms` gives them."""
    return alarms().filter(closed_on=None)


def alarm_or_404(key: UUID) -> Alarm:
    """One alarm; Http404 where there is none."""
    found = alarms().filter(pk=key).first()
    if found is None:
        raise Http404
    return found


def affected(alarm: Alarm) -> list[Participant]:
    """Whom an alarm may touch: grave first, then raised or never set, then ordinary."""
    people = {person.code: person for person in alarm.affected.all()}
    told = ((code, Risk(one.level) if one.level else None) for code, one in people.items())
    return [people[code] for code in rules.in_order(told)]


def others_asked() -> QuerySet[OthersAsk]:
    """Who else asked about somebody, newest first; for the artist."""
    return OthersAsk.objects.select_related("person")


@dataclass(frozen=True)
class Due:
    """A request and how many whole hours are left to answer it; less than none is late."""

    request: Request
    hours: int

    @property
    def is_late(self) -> bool:
        """Whether its day is over and nobody was answered."""
        return self.request.answered_on is None and self.hours < 0

    @property
    def days(self) -> int:
        """The whole days in those hours."""
        return max(self.hours, 0) // 24


def as_due(request: Request, at: datetime) -> Due:
    """A request with the hours that are left at a moment, by the clock of the home."""
    return Due(request, rules.hours_to_answer(request.due_on, timezone.localtime(at)))


def requests(at: datetime) -> list[Due]:
    """Every request: those that are open, first due first, so late ones lead; then the rest."""
    order = F("answered_on").desc(nulls_first=True)
    rows = Request.objects.select_related("person").order_by(order, "due_on", "asked_on", "pk")
    return [as_due(row, at) for row in rows]


def requests_due(at: datetime) -> list[Due]:
    """The requests that wait for an answer, first due first."""
    return [one for one in requests(at) if one.request.answered_on is None]


def request_or_404(key: UUID) -> Request:
    """One request; Http404 where there is none."""
    found = Request.objects.select_related("person", "heard_by").filter(pk=key).first()
    if found is None:
        raise Http404
    return found


def file_request_or_404(key: UUID) -> Request:
    """One request for what is held, by somebody we are sure of; Http404 for any other."""
    found = request_or_404(key)
    if found.kind != RequestKind.WHAT_YOU_HOLD or not found.sure_how:
        raise Http404
    return found


def misuses() -> list[Misuse]:
    """Pictures seen where they should not be: those not gone yet, then the rest; newest first."""
    rows = list(Misuse.objects.select_related("picture"))
    return sorted(rows, key=lambda row: row.gone_on is not None)


def misuse_or_404(key: UUID) -> Misuse:
    """One of them; Http404 where there is none."""
    found = Misuse.objects.filter(pk=key).first()
    if found is None:
        raise Http404
    return found


@dataclass(frozen=True)
class BackupState:
    """What is known of backups: the last good one, whole days since it, and a restore, if any."""

    last: Backup | None
    days: int
    is_too_old: bool
    restored: Backup | None

    @property
    def rows(self) -> int:
        """How many rows the last one holds."""
        return sum(self.last.counts.values()) if self.last else 0


def backup_state(at: datetime) -> BackupState:
    """The last backup that was read back whole, as of now: the clock's hour, also in a rehearsal.

    What the register knows: where a restored one forgot later backups, these are not in it.
    """
    last = Backup.objects.order_by("-made_at").first()
    made_at = last.made_at if last else None
    return BackupState(
        last,
        rules.days_old(made_at, at) if made_at else 0,
        rules.is_too_old(made_at, at),
        Backup.objects.exclude(restored_at=None).order_by("-restored_at").first(),
    )


def current_closing() -> Closing | None:
    """The closing that was begun, or done, and not called off."""
    found = Closing.objects.filter(is_current=True)
    return found.select_related("begun_by", "closed_by").first()


def is_closing() -> bool:
    """Whether the project is being closed now: begun, and not done yet."""
    return Closing.objects.filter(is_current=True, closed_on=None).exists()


@dataclass(frozen=True)
class Lacking:
    """What still lacks its ending: whose it is, since when, and what is missing."""

    person: Participant
    since: date
    lack: Lack
    print: Print | None = None
    promise: Promise | None = None
    picture: Picture | None = None

    @property
    def may_be_decided(self) -> bool:
        """Whether somebody may decide how this print ends, once the project closes."""
        state = self.print.state if self.print else ""
        return state in closing.MAY_BE_CLOSED_OUT


def lacking(user: "User", on: date) -> list[Lacking]:
    """All that has no ending yet of those in sight, longest owed first."""
    found = [*_open_prints(user), *_open_promises(user), *_never_owed(user, on)]
    return sorted(found, key=lambda one: (one.since, one.person.code))


def _open_prints(user: "User") -> Iterator[Lacking]:
    for row in prints.prints(user):
        lack = closing.of_print(PrintState(row.state), row.closed_how)
        if isinstance(lack, Lack):
            yield Lacking(row.person, row.owed_since, lack, print=row, picture=row.picture)


def _open_promises(user: "User") -> Iterator[Lacking]:
    for row in prints.promises(user):
        lack = closing.of_promise(row.kept_on is not None, row.ended_how)
        if isinstance(lack, Lack):
            yield Lacking(row.person, row.promised_on, lack, promise=row)


def _never_owed(user: "User", on: date) -> Iterator[Lacking]:
    """Who sat and is owed no print of it: the press "Owe what is missing" was not made."""
    in_sight = people(user)
    mine = set(in_sight.values_list("pk", flat=True))
    in_pictures = [one for one in prints.without_print(on) if one.person_id in mine]
    for one in in_pictures:
        sat_on, picture = one.picture.sitting.on, one.picture
        yield Lacking(one.person, sat_on, Lack.NOT_OWED_YET, picture=picture)
    seen = {one.person_id for one in in_pictures}
    sat = in_sight.filter(sittings__on__lte=on, prints=None).exclude(pk__in=seen)
    for person in sat.annotate(sat_on=Min("sittings__on")).order_by("code"):
        yield Lacking(person, person.sat_on, Lack.NOT_OWED_YET)


def endings(user: "User") -> dict[Ending, int]:
    """How prints and promises ended so far, counted."""
    states = prints.prints(user).order_by().values_list("state", "closed_how")
    made = prints.promises(user).order_by().values_list("kept_on", "ended_how")
    return closing.sums(
        [
            *(closing.of_print(PrintState(state), how) for state, how in states),
            *(closing.of_promise(kept_on is not None, how) for kept_on, how in made),
        ]
    )


def closed_out(user: "User") -> QuerySet[Step]:
    """The steps by which prints were closed out, newest first: how, who decided, and why."""
    found = Step.objects.filter(became=PrintState.CLOSED_OUT, print__in=prints.prints(user))
    return found.select_related("print__person", "print__picture").order_by("-on", "pk")


def print_or_404(user: "User", key: UUID) -> Print:
    """One print of somebody in sight; Http404 where absent or out of sight."""
    found = prints.prints(user).filter(pk=key).first()
    if found is None:
        raise Http404
    return found
