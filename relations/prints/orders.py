"""What is done about orders for the lab: ordered by code, handed over, fetched and checked."""

import secrets
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from django.db import transaction

from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import actions, lab, ordered, queries
from .lab import Came, Fault, Surface
from .models import LabLine, LabOrder, Print
from .rules import PrintState

# A slip that says how many orders there were would say how many sitters.
CODES = 9000
FIRST_CODE = 1000


@dataclass(frozen=True)
class Wanted:
    """One print to be made: its size as typed, its price if it is known, and how the page had it.

    `was` is the state in which the page was opened: a page that is too old orders nothing.
    """

    print: Print
    size: str
    price: Decimal | None = None
    was: str = ""


@transaction.atomic
def order(
    *,
    wanted: Sequence[Wanted],
    on: date,
    by: User,
    at: datetime,
    surface: str = Surface.MATT,
) -> LabOrder | None:
    """Order prints, dated by the event, in the money of the trip that the day belongs to.

    Whoever must not be seen at the lab is left out and noted as such; None where nobody is left.
    Refused: nothing_chosen, and as `actions.step` refuses, for all or none.
    """
    if not wanted:
        raise Refused("nothing_chosen")
    going = [one for one in wanted if not _kept_back(one.print)]
    if not going:
        return None
    trip = ordered.trip_of(on)
    row = LabOrder.objects.create(
        code=_new_code(),
        ordered_on=on,
        trip=trip,
        currency=trip.currency if trip else "",
        price=_sum([one.price for one in going]),
        surface=Surface(surface),
    )
    for number, one in enumerate(going, start=1):
        _put(row, number, one, by, at)
    return row


def _put(row: LabOrder, number: int, one: Wanted, by: User, at: datetime) -> None:
    actions.step(
        print=one.print, to=PrintState.ORDERED, on=row.ordered_on, by=by, at=at, was=one.was
    )
    one.print.order = row
    one.print.save(update_fields=["order"])
    LabLine.objects.create(
        order=row, print=one.print, number=number, size=one.size, price=one.price
    )


def _kept_back(row: Print) -> bool:
    """Whether a print is not for the lab; what is found out only now is noted on it."""
    if not row.not_at_the_lab and queries.is_grave(row.person, row.picture):
        row.not_at_the_lab = True
        row.save(update_fields=["not_at_the_lab"])
    return row.not_at_the_lab


def _sum(prices: Sequence[Decimal | None]) -> Decimal | None:
    """All prices together; None while one is not known."""
    known = [price for price in prices if price is not None]
    return sum(known, Decimal(0)) if len(known) == len(prices) else None


def _new_code() -> str:
    taken = set(LabOrder.objects.values_list("code", flat=True))
    free = [code for number in range(CODES) if (code := f"L{FIRST_CODE + number}") not in taken]
    return secrets.choice(free)


@transaction.atomic
def strike(*, order: LabOrder, by: User) -> int:
    """Take off an order, before it is handed over, whoever must no longer be seen at the lab.

    Their print stays ordered, to be made elsewhere. Gives how many were struck.
    """
    lines = ordered.open_lines(order).filter(print__state=PrintState.ORDERED)
    struck = [line for line in lines if _kept_back(line.print)]
    for line in struck:
        line.came = Came.STRUCK
        line.save(update_fields=["came"])
        line.print.order = None
        line.print.save(update_fields=["order"])
    if struck:
        order.price = _sum(ordered.prices(order))
        order.save(update_fields=["price"])
    return len(struck)


@transaction.atomic
def hand_over(*, order: LabOrder, on: date, by: User, at: datetime) -> LabOrder:
    """Slip and files are at the lab. Refused: nothing_to_hand_over, and as `actions.step`."""
    strike(order=order, by=by)
    lines = list(ordered.open_lines(order).filter(print__state=PrintState.ORDERED))
    if not lines:
        raise Refused("nothing_to_hand_over")
    for line in lines:
        actions.step(print=line.print, to=PrintState.AT_THE_LAB, on=on, by=by, at=at)
    order.handed_over_on = order.handed_over_on or on
    order.save(update_fields=["handed_over_on"])
    return order


@dataclass(frozen=True)
class Found:
    """What somebody found of one line: it came, it is good, it has a fault, or it is lost.

    `why` are the words that stay with the step.
    """

    came: Came
    fault: Fault | None = None
    why: str = ""


@transaction.atomic
def collect(
    *,
    order: LabOrder,
    found: Mapping[int, Found],
    spoilt: int,
    waste_slip: int,
    on: date,
    by: User,
    at: datetime,
) -> LabOrder:
    """Note what came home of an order, by line number, and how many the lab spoilt and gave back.

    What is not named is where it was. A print that comes and is checked takes both steps, dated
    alike. Refused: no_such_line, and as `actions.step`, for all or none.
    """
    lines = {line.number: line for line in order.lines.select_related("print")}
    if not found.keys() <= lines.keys():
        raise Refused("no_such_line")
    for number, said in sorted(found.items()):
        _find(lines[number], said, on, by, at)
    order.spoilt, order.waste_slip = spoilt, waste_slip
    if order.collected_on is None and not ordered.open_lines(order).exists():
        order.collected_on = on
    order.save(update_fields=["spoilt", "waste_slip", "collected_on"])
    return order


# The steps that lead from the lab to what was found.
STEPS: Mapping[Came, tuple[PrintState, ...]] = {
    Came.COLLECTED: (PrintState.COLLECTED,),
    Came.GOOD: (PrintState.COLLECTED, PrintState.CHECKED),
    Came.FAULTY: (PrintState.COLLECTED, PrintState.FAULTY),
    Came.LOST: (PrintState.LOST,),
}


def _find(line: LabLine, said: Found, on: date, by: User, at: datetime) -> None:
    steps = list(STEPS[said.came])
    if line.print.state == steps[0]:
        steps.pop(0)
    if line.print.order_id != line.order_id or not steps:
        raise Refused("moved_meanwhile")
    for to in steps:
        last = to == steps[-1]
        actions.step(print=line.print, to=to, on=on, by=by, at=at, reason=said.why if last else "")
    if said.fault:
        LabLine.objects.filter(pk=line.pk).update(fault=said.fault)


@transaction.atomic
def price(*, order: LabOrder, prices: Mapping[int, Decimal | None], by: User) -> LabOrder:
    """Note what the lab asks for each line, by number; one that is not named stays as it was."""
    for line in order.lines.filter(number__in=prices.keys()):
        line.price = prices[line.number]
        line.save(update_fields=["price"])
    order.price = _sum(ordered.prices(order))
    order.save(update_fields=["price"])
    return order


def balance(order: LabOrder) -> lab.Balance:
    """The order in numbers: ordered + spoilt = collected + waste slip."""
    came = order.lines.values_list("came", flat=True)
    return lab.balance(came, order.spoilt, order.waste_slip)
