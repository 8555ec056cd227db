"""Asking somebody how they want their print: the way, and their answer, in one press."""

from datetime import date, datetime
from typing import Any

from django.db import transaction

from relations.privacy.models import User

from . import actions
from .models import Print
from .rules import AFTER_ANSWER, Answered, PrintState


@transaction.atomic
def ask_how(
    *,
    print: Print,
    answer: str,
    on: date,
    by: User,
    at: datetime,
    was: str = "",
    box: str = "",
    **way: Any,
) -> Print:
    """Note that they were asked, the way that was agreed, and what they answered, all or nothing.

    `answer` is one of rules.Answered: to have it printed leaves the print at "asked how"; kept for
    them, with its `box`, and not wanted are two steps of the same day. `way` as `actions.step`
    takes it. Refused: as `actions.step` refuses.
    """
    after = AFTER_ANSWER.get(Answered(answer))
    actions.step(print=print, to=PrintState.ASKED_HOW, on=on, by=by, at=at, was=was, **way)
    if after is None:
        return print
    more = {"box": box} if after is PrintState.KEPT_FOR_THEM else {}
    return actions.step(print=print, to=after, on=on, by=by, at=at, **more)


def asks_where(row: Print) -> bool:
    """Whether where and when is the next thing to ask: it is to be brought, and nobody knows where.

    On a page of its own, since the words of a door are long and most of those asked on a trip
    have a quarter by then. Where home is not known to be safe, nobody is asked for a place.
    """
    return row.state == PrintState.ASKED_HOW and row.is_safe is True and not row.quarter
