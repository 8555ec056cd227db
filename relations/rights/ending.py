"""What is written when the project closes: begun, called off, each print ended, and closed."""

from collections.abc import Collection
from datetime import date, datetime

from django.db import transaction

from relations.people import closed
from relations.prints import endings
from relations.prints.models import Print
from relations.prints.rules import PrintState
from relations.privacy.log import note
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import closing, people_ending, queries
from .models import Closing

KIND = "rights.closing"


@transaction.atomic
def begin(*, on: date, by: User) -> Closing:
    """Note that the project is to close; from now on prints may be closed out. Twice is once."""
    row, is_new = Closing.objects.get_or_create(
        is_current=True, defaults={"begun_on": on, "begun_by": by}
    )
    if is_new:
        note(by, "began", KIND, row.pk)
    return row


@transaction.atomic
def call_off(*, on: date, by: User) -> None:
    """Note that it goes on after all, also when it was closed; what ended stays ended.

    A second press finds it called off. Refused: before_it_began.
    """
    row = Closing.objects.select_for_update().filter(is_current=True).first()
    if row is None:
        return
    if on < row.begun_on:
        raise Refused("before_it_began")
    row.is_current, row.called_off_on, row.called_off_by = None, on, by
    row.save(update_fields=["is_current", "called_off_on", "called_off_by"])
    closed.reopen()
    note(by, "called_off", KIND, row.pk)


@transaction.atomic
def close(*, on: date, by: User) -> Closing:
    """Close the project, where nothing lacks its ending; a second press finds it closed.

    Refused: the codes of `closing.against_closing`, before_it_began.
    """
    row = Closing.objects.select_for_update().filter(is_current=True).first()
    lacks = [one.lack for one in queries.lacking(by, on)]
    codes = closing.against_closing(
        lacks, has_begun=row is not None, without_ending=len(people_ending.without_ending())
    )
    if row is None or codes:
        raise Refused(*codes)
    if on < row.begun_on:
        raise Refused("before_it_began")
    if row.closed_on is None:
        row.closed_on, row.closed_by = on, by
        row.save(update_fields=["closed_on", "closed_by"])
        closed.close(on=on)
        note(by, "closed", KIND, row.pk)
    return row


@transaction.atomic
def end_print(
    *,
    print: Print,
    ending: str,
    decided_by: str,
    why: str,
    on: date,
    by: User,
    at: datetime,
    countries: Collection[str] | None = None,
    apology_given: bool = False,
    was: str = "",
) -> Print:
    """End a print that nobody could be given, as somebody named decided, while the project closes.

    `countries`: of the archive, None is anywhere. Refused: the codes of `closing.against_ending`,
    of `prints.endings.close_out`.
    """
    codes = closing.against_ending(
        PrintState(print.state),
        ending,
        has_speaker=print.person.speakers.exists(),
        is_agreed_to_archive=people_ending.is_agreed_to_archive(print.picture, on, countries),
    )
    if codes:
        raise Refused(*codes)
    return endings.close_out(
        print=print,
        ending=ending,
        decided_by=decided_by,
        why=why,
        is_closing=queries.is_closing(),
        on=on,
        by=by,
        at=at,
        apology_given=apology_given,
        was=was,
    )
