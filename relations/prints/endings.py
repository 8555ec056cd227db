"""What is written when a print is closed out, and when a promise ends without being kept."""

from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import actions, promises
from .models import Print, Promise
from .promises import Otherwise
from .rules import PrintState


@transaction.atomic
def close_out(
    *,
    print: Print,
    ending: str,
    decided_by: str,
    why: str,
    is_closing: bool,
    on: date,
    by: User,
    at: datetime,
    apology_given: bool = False,
    was: str = "",
) -> Print:
    """End a print that nobody could be given, by decision of somebody named and with a reason.

    `ending` is one of `rules.ENDINGS` for a print that is kept for them, else empty; `is_closing`:
    whether the project closes, which this room cannot know. Refused: why, or as `actions.step`.
    """
    if not why.strip():
        raise Refused("why")
    row = actions.step(
        print=print,
        to=PrintState.CLOSED_OUT,
        on=on,
        by=by,
        at=at,
        reason=why,
        was=was,
        is_closing=is_closing,
        is_decided=bool(decided_by.strip()),
        ending=ending,
        apology_given=apology_given,
    )
    row.decided_by = decided_by
    row.save(update_fields=["decided_by"])
    return row


@transaction.atomic
def end_promise(
    *, promise: Promise, how: str, why: str, on: date, by: User, at: datetime
) -> Promise:
    """Note that they let us off, or that a promise could not be kept; once, whoever presses.

    That it could not be kept is for the artist to say. Refused: artist_only, day_in_future, or
    the codes of `promises.may_end`.
    """
    row, end = Promise.objects.select_for_update().get(pk=promise.pk), Otherwise(how)
    if end is Otherwise.COULD_NOT and not by.is_artist:
        raise Refused("artist_only")
    if on > timezone.localdate(at):
        raise Refused("day_in_future")
    codes = promises.may_end(
        end, promised_on=row.promised_on, on=on, why=why, has_ended=not row.is_open
    )
    if codes:
        raise Refused(*codes)
    row.ended_how, row.ended_on, row.ended_why, row.ended_by = end, on, why, by
    row.save(update_fields=["ended_how", "ended_on", "ended_why", "ended_by"])
    return row
