"""What is done when something is lost: raised by anybody, told and closed by who follows it."""

from datetime import date, datetime, timedelta
from time import monotonic

from django.db import transaction
from django.utils import timezone

from relations.meetings import travelling
from relations.people.models import Participant
from relations.privacy.ending import end_every_session
from relations.privacy.log import note
from relations.privacy.models import Role, User
from relations.privacy.refused import Refused

from .models import Alarm, Telling
from .telling import touched
from .values import NAMES_NOBODY, Lost

KIND = "rights.alarm"


@transaction.atomic
def raise_alarm(*, what: str, by: User, at: datetime) -> Alarm:
    """Note what was lost, end every session there is, and list whom it may touch.

    Whoever raises it is in no trouble; nothing is asked but what was lost. How long it took until
    nothing was open any more lies between `known_at` and `sessions_ended_at`. A lost blank has no
    name on it and opens nothing: no session ends and nobody is listed.
    """
    lost, began = Lost(what), monotonic()
    alarm = Alarm.objects.create(known_at=at, raised_by=by, what=lost)
    note(by, "raised", KIND, alarm.pk)
    if lost in NAMES_NOBODY:
        return alarm
    end_every_session()
    travelling.end_all(at=at)
    alarm.sessions_ended_at = at + timedelta(seconds=monotonic() - began)
    alarm.save(update_fields=["sessions_ended_at"])
    alarm.affected.set(touched(lost, timezone.localdate(at)))
    return alarm


@transaction.atomic
def tell(*, alarm: Alarm, person: Participant, by: User, at: datetime) -> Telling:
    """Note that somebody whom an alarm may touch was told; the first hour stands.

    Refused: artist_only, not_touched.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    if not alarm.affected.filter(pk=person.pk).exists():
        raise Refused("not_touched")
    told, _ = Telling.objects.get_or_create(
        alarm=alarm, person=person, defaults={"told_at": at, "told_by": by}
    )
    return told


@transaction.atomic
def note_authority(
    *, alarm: Alarm, by: User, on: date, told_on: date | None = None, why_not: str = ""
) -> Alarm:
    """Note on which day the authority was told, or why it need not be; the last word stands.

    Source: GDPR art. 33(1) and, for what is kept of it, 33(5).
    Refused: artist_or_keeper, told_or_why, before_it_was_known.
    """
    if not by.is_one_of(Role.ARTIST, Role.KEEPER):
        raise Refused("artist_or_keeper")
    if (told_on is None) == (not why_not):
        raise Refused("told_or_why")
    if told_on is not None and told_on < timezone.localdate(alarm.known_at):
        raise Refused("before_it_was_known")
    alarm.authority_told_on = told_on
    alarm.not_needed_on, alarm.not_needed_why = (on, why_not) if why_not else (None, "")
    alarm.save(update_fields=["authority_told_on", "not_needed_on", "not_needed_why"])
    note(by, "noted_authority", KIND, alarm.pk)
    return alarm


@transaction.atomic
def close_alarm(*, alarm: Alarm, by: User, on: date) -> Alarm:
    """Close an alarm; a second press finds it closed.

    Where it may touch somebody, it is first noted what the authority was told.
    Refused: artist_or_keeper, before_it_was_known, authority_first.
    """
    if not by.is_one_of(Role.ARTIST, Role.KEEPER):
        raise Refused("artist_or_keeper")
    if on < timezone.localdate(alarm.known_at):
        raise Refused("before_it_was_known")
    is_decided = bool(alarm.authority_told_on or alarm.not_needed_on)
    if not is_decided and alarm.affected.exists():
        raise Refused("authority_first")
    if alarm.closed_on is None:
        alarm.closed_on = on
        alarm.save(update_fields=["closed_on"])
    return alarm
