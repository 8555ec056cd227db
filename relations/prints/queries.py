"""Reads of prints and promises, through the door of the people's room."""

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING
from uuid import UUID

from django.db.models import Exists, F, OuterRef, Q, QuerySet
from django.http import Http404

from relations.meetings.models import Trip
from relations.people.access import people
from relations.people.values import Risk
from relations.pictures.models import Appearance

from . import rules
from .models import Print, Promise, Step
from .rules import ENDS, MOVES, Counts, Facts, PrintState

if TYPE_CHECKING:
    from relations.privacy.models import User

# How a print of which no picture is there is called in an address.
NO_PICTURE = "no-picture"


def without_print(on: date) -> list[Appearance]:
    """Everybody in every picture made by a day who is owed no print of it yet; crops left out."""
    have = Print.objects.filter(person=OuterRef("person"), picture=OuterRef("picture"))
    found = Appearance.objects.filter(
        ~Exists(have), picture__crop_of=None, picture__sitting__on__lte=on
    )
    return list(
        found.select_related("person", "picture__sitting").order_by(
            "picture__sitting__on", "picture__code", "place"
        )
    )


def nothing_to_print() -> QuerySet[Print]:
    """The prints of those who sat and of whom nothing came out."""
    return Print.objects.filter(picture=None, state=PrintState.NOTHING_TO_PRINT)


def was_asked_on_trip(row: Print, on: date) -> bool:
    """Whether they were asked how on the trip in which a day lies; a day at home is no trip."""
    trip = Trip.objects.filter(first_day__lte=on, last_day__gte=on).first()
    return (
        trip is not None
        and row.steps.filter(
            became=PrintState.ASKED_HOW, on__range=(trip.first_day, trip.last_day)
        ).exists()
    )


def prints(user: "User") -> QuerySet[Print]:
    """The prints a user may see: of those in sight."""
    found = Print.objects.filter(person__in=people(user))
    return found.select_related("person", "picture")


def owed(user: "User", on: date) -> list[Print]:
    """Those still on their way, late first, then by how long they are owed; each with `late`."""
    rows = list(prints(user).exclude(state__in=ENDS))
    for row in rows:
        row.late = is_late(row, on)  # type: ignore[attr-defined]
    return sorted(
        rows, key=lambda row: (not is_late(row, on), row.owed_since, row.person.code, str(row.pk))
    )


def is_late(row: Print, on: date) -> bool:
    """Whether somebody has waited for it too long (F11)."""
    return rules.is_late(PrintState(row.state), row.owed_since, on)


def counts(on: date) -> Counts:
    """All prints of the project, counted by F11; for the artist."""
    rows = Print.objects.values_list("state", "owed_since")
    return rules.count(((PrintState(state), since) for state, since in rows), on)


def print_or_404(user: "User", person: str, picture: str) -> Print:
    """The print of a person in sight of a picture; Http404 where absent or out of sight."""
    of = Q(picture=None) if picture == NO_PICTURE else Q(picture__code=picture)
    found = prints(user).filter(of, person__code=person).first()
    if found is None:
        raise Http404
    return found


@dataclass(frozen=True)
class Ways:
    """The steps from where a print is: the next one, the others, and why one must wait."""

    next: PrintState | None
    others: tuple[PrintState, ...]
    not_yet: tuple[tuple[PrintState, tuple[str, ...]], ...]


def ways_on(row: Print, on: date) -> Ways:
    """What may be noted next; what is asked on the page of a step is taken as answered.

    Where home is not safe, or grave harm may come, keeping it comes first (job.md A 26).
    """
    state = PrintState(row.state)
    said = Facts(
        way_agreed=True,
        rounds=row.tries,
        days_waiting=(on - row.state_on).days,
        asked_this_trip=was_asked_on_trip(row, on),
        # What the page of a step asks is no reason to hide the step.
        tracked=True,
        plain_cover=True,
        post_asked_for=True,
        word_from_sitter=True,
        sat_again=True,
    )
    found = {to: rules.may_move(state, to, said) for to in MOVES[state]}
    can = [to for to, codes in found.items() if not codes]
    if row.is_safe is False or (row.is_safe is None and row.person.level == Risk.GRAVE):
        can.sort(key=lambda to: to is not PrintState.KEPT_FOR_THEM)
    # Closing out is for the closing of the project, which no page of a print begins.
    not_yet = {to: codes for to, codes in found.items() if codes and "closing" not in codes}
    return Ways(can[0] if can else None, tuple(can[1:]), tuple(not_yet.items()))


def way(row: Print) -> list[Step]:
    """The steps of a print, newest first."""
    return list(row.steps.order_by("-number"))


def promises(user: "User") -> QuerySet[Promise]:
    """What was promised to those in sight: what is still to be kept first, soonest first."""
    found = Promise.objects.filter(person__in=people(user)).select_related("person")
    return found.order_by(
        F("kept_on").asc(nulls_first=True), F("due_on").asc(nulls_last=True), "promised_on", "id"
    )


def promise_or_404(user: "User", key: UUID) -> Promise:
    """One promise to somebody in sight; Http404 where absent or out of sight."""
    found = promises(user).filter(pk=key).first()
    if found is None:
        raise Http404
    return found
