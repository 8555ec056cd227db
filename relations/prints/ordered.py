"""Reads about the lab: what waits to be ordered and why now, orders, their lines, what is spent."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from django.db.models import QuerySet, Sum
from django.http import Http404

from relations.meetings.models import Trip
from relations.people.access import people
from relations.pictures.models import FilmSheet, Sitting

from . import lab, queries
from .models import LabLine, LabOrder, Print
from .rules import PrintState

if TYPE_CHECKING:
    from relations.privacy.models import User

# What goes to the lab next: new, and what has to be made again.
TO_ORDER = (PrintState.FILE_READY, PrintState.FAULTY, PrintState.LOST)
# From the slip for the lab until the print lies in its envelope.
ON_AN_ORDER = frozenset(
    {PrintState.ORDERED, PrintState.AT_THE_LAB, PrintState.COLLECTED, PrintState.CHECKED}
)


def waiting(user: "User") -> QuerySet[Print]:
    """The prints in sight that go to the lab next, who waits longest first."""
    found = queries.prints(user).filter(state__in=TO_ORDER, not_at_the_lab=False)
    return found.exclude(picture=None).order_by("state_on", "picture__code", "person__code")


def elsewhere(user: "User") -> QuerySet[Print]:
    """Those that would go next but are made elsewhere: the instruction, never the reason."""
    found = queries.prints(user).filter(state__in=TO_ORDER, not_at_the_lab=True)
    return found.order_by("state_on", "picture__code", "person__code")


def trip_of(on: date) -> Trip | None:
    """The trip whose money a day belongs to: the one it lies in, or else the last one before."""
    return Trip.objects.filter(first_day__lte=on).order_by("-first_day").first()


def why_now(rows: Iterable[Print], on: date) -> tuple[lab.Why, ...]:
    """Why prints that wait should be ordered on a day."""
    trip = trip_of(on)
    ends = trip.last_day if trip and trip.last_day >= on else None
    return lab.due([row.state_on for row in rows], on, ends)


def orders(user: "User") -> QuerySet[LabOrder]:
    """The orders that hold a print of somebody in sight; for the artist all, newest first."""
    found = LabOrder.objects.select_related("trip")
    if not user.is_artist:
        seen = LabLine.objects.filter(print__person__in=people(user)).values("order")
        found = found.filter(pk__in=seen)
    return found.order_by("-ordered_on", "code")


def order_or_404(user: "User", code: str) -> LabOrder:
    """One order that a user may see; absent and not theirs are the same Http404."""
    found = orders(user).filter(code=code).first()
    if found is None:
        raise Http404
    return found


def lines(user: "User", order: LabOrder) -> list[LabLine]:
    """The lines of an order about people in sight, by number."""
    found = order.lines.filter(print__person__in=people(user))
    return list(found.select_related("print__person", "print__picture").order_by("number"))


def to_order_again(lines: Iterable[LabLine]) -> list[LabLine]:
    """Of these the ones that must be made again and are on no new order yet."""
    again = {lab.Came.FAULTY, lab.Came.LOST}
    return [line for line in lines if line.came in again and line.print.state in TO_ORDER]


def need_slips(lines: Iterable[LabLine]) -> list[LabLine]:
    """Of these the ones whose print gets slips now: it is being made, or came and is good.

    Nothing that is made elsewhere: that stands on no list of the assistant's.
    """
    good = {"", lab.Came.COLLECTED, lab.Came.GOOD}
    found = [line for line in lines if line.came in good and line.print.state in ON_AN_ORDER]
    return [line for line in found if not line.print.not_at_the_lab]


def open_lines(order: LabOrder) -> QuerySet[LabLine]:
    """The lines of which nothing came yet."""
    return order.lines.filter(came="").select_related("print__person", "print__picture")


def slip_lines(order: LabOrder) -> list[LabLine]:
    """The lines that stand on the slip and whose files go along: nobody whom the lab may not see.

    Asked anew each time, so that an older order does not say what must no longer be said.
    """
    found = order.lines.exclude(came=lab.Came.STRUCK).exclude(print__not_at_the_lab=True)
    rows = found.select_related("print__person", "print__picture").order_by("number")
    return [row for row in rows if not queries.is_grave(row.print.person, row.print.picture)]


def prices(order: LabOrder) -> list[Decimal | None]:
    """The price of each line that was not struck."""
    found = order.lines.exclude(came=lab.Came.STRUCK).order_by("number")
    return list(found.values_list("price", flat=True))


@dataclass(frozen=True)
class Money:
    """What prints of a trip cost so far, in its own money, beside the sum set aside for them."""

    trip: Trip
    spent: Decimal
    unpriced: int

    @property
    def left(self) -> Decimal | None:
        """What is left of the sum, below 0 where more was spent; None where none is set aside."""
        return None if self.trip.print_budget is None else self.trip.print_budget - self.spent

    @property
    def over(self) -> Decimal:
        """By how much the sum is passed; 0 where it is not, or where there is none."""
        return max(-(self.left or Decimal(0)), Decimal(0))


def money(trip: Trip) -> Money:
    """What the orders of a trip come to; those without a price are counted, not guessed."""
    found = LabOrder.objects.filter(trip=trip)
    priced = found.filter(currency=trip.currency, price__isnull=False)
    spent = priced.aggregate(sum=Sum("price"))["sum"] or Decimal(0)
    return Money(trip, spent, found.filter(price=None).count())


@dataclass(frozen=True)
class Usual:
    """The sittings of a trip beside what is common: never an error. For the artist alone."""

    sitters: int
    sheets: int
    unusual: tuple[lab.Unusual, ...]
    least: Decimal
    most: Decimal
    currency: str = lab.SHEET_CURRENCY


def usual(trip: Trip) -> Usual:
    """Sheets a sitter, minutes a sitting and the cost of film on a trip, beside the common ones."""
    found = Sitting.objects.filter(trip=trip)
    sitters = found.order_by().exclude(sitters=None).values("sitters").distinct().count()
    sheets = FilmSheet.objects.filter(sitting__in=found).count()
    minutes = [number for number in found.values_list("minutes", flat=True) if number is not None]
    least, most = lab.film_cost(sitters)
    return Usual(sitters, sheets, lab.unusual(sitters, sheets, minutes), least, most)
