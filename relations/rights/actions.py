"""What is done when something is lost: raised by anybody, closed by the artist or the keeper."""

from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from relations.meetings import travelling
from relations.people.models import InSight, Participant
from relations.privacy.ending import end_sessions
from relations.privacy.models import Role, User
from relations.privacy.refused import Refused

from .models import Alarm
from .rules import days_affected
from .values import NAMES_NOBODY, Lost


@transaction.atomic
def raise_alarm(*, what: str, by: User, at: datetime) -> Alarm:
    """Note what was lost, end every session of every assistant, and list whom it may touch.

    Affected is whoever was in sight of an assistant on that day or the 7 days before. Whoever
    raises it is in no trouble; nothing is asked but what was lost. A lost blank has no name on it
    and opens nothing: no session ends and nobody is listed.
    """
    if Lost(what) in NAMES_NOBODY:
        return Alarm.objects.create(known_at=at, raised_by=by, what=Lost(what))
    alarm = Alarm.objects.create(
        known_at=at, raised_by=by, what=Lost(what), sessions_ended_at=timezone.now()
    )
    alarm.affected.set(_affected(timezone.localdate(at)))
    end_sessions(User.objects.filter(role=Role.ASSISTANT))
    travelling.end_all(at=at)
    return alarm


def _affected(on: date) -> list[Participant]:
    seen = InSight.objects.filter(user__role=Role.ASSISTANT, day__range=days_affected(on))
    return list(Participant.objects.filter(in_sight__in=seen).distinct())


@transaction.atomic
def close_alarm(*, alarm: Alarm, by: User, on: date) -> Alarm:
    """Close an alarm; a second press finds it closed.

    Refused: artist_or_keeper, before_it_was_known.
    """
    if not by.is_one_of(Role.ARTIST, Role.KEEPER):
        raise Refused("artist_or_keeper")
    if on < timezone.localdate(alarm.known_at):
        raise Refused("before_it_was_known")
    if alarm.closed_on is None:
        alarm.closed_on = on
        alarm.save(update_fields=["closed_on"])
    return alarm
