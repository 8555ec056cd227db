"""Reads of alarms and of whom they may touch."""

from uuid import UUID

from django.db.models import Count, F, QuerySet
from django.http import Http404

from relations.people.models import Participant
from relations.people.values import Risk

from . import rules
from .models import Alarm


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
