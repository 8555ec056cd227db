"""Reads of alarms and of whom they may touch, of what others ask, and of the newest backup."""

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.db.models import Count, F, QuerySet
from django.http import Http404

from relations.people.models import Participant
from relations.people.values import Risk

from . import rules
from .models import Alarm, Backup, Misuse, OthersAsk


def alarms() -> QuerySet[Alarm]:
    """Every alarm, open ones first, then the newest; each with `touched`, how many people."""
    found = Alarm.objects.select_related("raised_by").annotate(touched=Count("affected"))
    return found.order_by(F("closed_on").asc(nulls_first=True), "-known_at")


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
