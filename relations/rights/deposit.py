"""What an archive is given: per picture one level of access with a day that a librarian can apply.

Only what everybody in a picture said yes to (use A) is on the list; "closed to bad people" cannot
be applied, so a level is open, closed until a day, or closed until each was asked again.
Source: job.md row 56.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from relations.consent.answers import Answer, Code
from relations.consent.values import Person, Use

# A number of forms below this points at people; source: job.md F13.
SMALL = 5


class Level(StrEnum):
    """Who may see a picture in an archive, and until when not."""

    OPEN = "open"
    CLOSED_UNTIL = "closed_until"
    ASK_AGAIN = "ask_again"


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the deposit list; `until` is the day on which it opens, where one was said."""

    picture: str
    level: Level
    until: date | None = None


def closed_until(people: Iterable[Person]) -> date | None:
    """Give the latest day before which somebody in a picture wants no archive to show it.

    Of forms that stand and say yes to an archive; None where nobody named a day.
    """
    days = [
        form.first_day
        for person in people
        for form in person.forms
        if form.stands and Use.ARCHIVE in form.uses and form.first_day is not None
    ]
    return max(days, default=None)


def entry(picture: str, answer: Answer, people: Iterable[Person], on: date) -> Entry | None:
    """Give the line of a picture; None where it may not be deposited, and unknown is no.

    `answer` is the weighing of use A from the day of the deposit, without an end. Nothing but a
    day that has not come may stand against it; a condition closes it until each was asked again.
    """
    if any(reason.code is not Code.TOO_EARLY for reason in answer.stops):
        return None
    until = closed_until(people)
    if answer.conditions:
        return Entry(picture, Level.ASK_AGAIN, until if until and until > on else None)
    if until is not None and until > on:
        return Entry(picture, Level.CLOSED_UNTIL, until)
    return None if answer.stops else Entry(picture, Level.OPEN)


def shown_count(count: int) -> int | None:
    """Give a number of forms as it may leave the house: None for 1 to 4."""
    return None if 0 < count < SMALL else count
