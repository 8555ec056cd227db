"""What is done when something is lost: raised by anybody, closed by the artist or the keeper."""

from datetime import date, datetime

from django.contrib.auth import SESSION_KEY
from django.contrib.sessions.models import Session
from django.db import transaction
from django.utils import timezone

from relations.people.models import InSight, Participant
from relations.privacy.models import Role, User
from relations.privacy.refused import Refused

from .models import Alarm
from .rules import days_affected
from .values import Lost


@transaction.atomic
def raise_alarm(*, what: str, by: User, at: datetime) -> Alarm:
    """Note what was lost, end every session of every assistant, and list whom it may touch.

    Affected is whoever was in sight of an assistant on that day or the 7 days before. Whoever
    raises it is in no trouble; nothing is asked but what was lost.
    """
    alarm = Alarm.objects.create(
        known_at=at, raised_by=by, what=Lost(what), sessions_ended_at=timezone.now()
    )
    alarm.affected.set(_affected(timezone.localdate(at)))
    end_sessions(Role.ASSISTANT)
    return alarm


def _affected(on: date) -> list[Participant]:
    seen = InSight.objects.filter(user__role=Role.ASSISTANT, day__range=days_affected(on))
    return list(Participant.objects.filter(in_sight__in=seen).distinct())


def end_sessions(role: Role) -> int:
    """End every open session of a role and give how many there were.

    Who a session is of stands inside it, so each is opened; there are never more than a few.
    """
    keys = {str(key) for key in User.objects.filter(role=role).values_list("pk", flat=True)}
    open_now = Session.objects.all()
    gone = [row.session_key for row in open_now if row.get_decoded().get(SESSION_KEY, "") in keys]
    Session.objects.filter(session_key__in=gone).delete()
    return len(gone)


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
