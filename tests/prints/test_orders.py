"""Orders for the lab: who may be on one, what comes of each line, and whether all is there."""

from decimal import Decimal

import pytest

from relations.meetings.models import Trip
from relations.people.models import Participant
from relations.people.values import Risk
from relations.prints import actions, orders
from relations.prints.lab import Came, Fault
from relations.prints.models import LabLine, LabOrder, Print
from relations.prints.orders import Found, Wanted
from relations.prints.rules import PrintState
from relations.privacy.refused import Refused
from tests import cast
from tests.cast import days
from tests.prints.frames import made, picture
from tests.rows import make

pytestmark = pytest.mark.django_db


def by():
    return {"by": cast.assistant(), "at": cast.moment()}


def ready(number: int = 8, state: str = "file_ready") -> list[Print]:
    """So many people with a print each that waits for the lab."""
    people = [make(Participant, code=f"7{one}") for one in range(number)]
    return [made(who, f"K{who.code}", state) for who in people]


def ordered(rows: list[Print], **how) -> LabOrder:
    wanted = [Wanted(row, "8 x 10 in", Decimal("12.50"), row.state) for row in rows]
    return orders.order(wanted=wanted, on=days(0), **{**by(), **how})


def at_the_lab(rows: list[Print]) -> LabOrder:
    return orders.hand_over(order=ordered(rows), on=days(0), **by())


def collect(order, found, spoilt=0, waste_slip=0):
    return orders.collect(
        order=order, found=found, spoilt=spoilt, waste_slip=waste_slip, on=days(0), **by()
    )


def refused(act, *args, **said):
    with pytest.raises(Refused) as caught:
        act(*args, **said)
    return caught.value.codes


def states(rows):
    return [Print.objects.get(pk=row.pk).state for row in rows]


def test_what_is_ordered_stands_on_one_slip_in_the_money_of_the_trip():
    trip = make(Trip, code="T7", first_day=days(-3), last_day=days(3), currency="EUR")
    rows = ready(2)
    order = ordered(rows, surface="gloss")
    assert (order.trip, order.currency, order.price) == (trip, "EUR", Decimal(25))
    assert order.surface == "gloss"
    assert states(rows) == ["ordered", "ordered"]
    assert [(line.number, line.print, line.size) for line in order.lines.all()] == [
        (1, rows[0], "8 x 10 in"),
        (2, rows[1], "8 x 10 in"),
    ]
    assert Print.objects.filter(order=order).count() == 2


def test_an_order_is_handed_over_with_the_first_of_its_prints_noted_at_the_lab():
    rows = ready(2)
    order = ordered(rows)
    for row, on in zip(rows, (days(0), days(1)), strict=True):
        said = {"on": on, "by": cast.artist(), "at": cast.moment(days(1))}
        actions.step(print=Print.objects.get(pk=row.pk), to=PrintState.AT_THE_LAB, **said)
    order.refresh_from_db()
    assert order.handed_over_on == days(0)


def test_an_order_of_no_trip_has_no_money_and_one_unknown_price_is_no_sum():
    first, second = ready(2)
    wanted = [Wanted(first, "A4", Decimal(9)), Wanted(second, "A4")]
    order = orders.order(wanted=wanted, on=days(0), **by())
    assert (order.trip, order.currency, order.price) == (None, "", None)
    orders.price(order=order, prices={2: Decimal("3.50")}, by=cast.assistant())
    assert LabOrder.objects.get().price == Decimal("12.50")


def test_nothing_chosen_is_no_order():
    assert refused(orders.order, wanted=[], on=days(0), **by()) == ("nothing_chosen",)


def test_no_code_of_an_order_says_how_many_there_were():
    codes = {ordered([row]).code for row in ready(3)}
    assert len(codes) == 3
    assert all(code[0] == "L" and len(code) == 5 for code in codes)


def test_of_two_who_order_the_same_print_at_once_one_is_told():
    (row,) = ready(1)
    wanted = [Wanted(Print.objects.get(pk=row.pk), "A4", was="file_ready") for _ in range(2)]
    assert orders.order(wanted=wanted[:1], on=days(0), **by())
    late = refused(orders.order, wanted=wanted[1:], on=days(0), **by())
    assert late == ("moved_meanwhile",)
    assert LabOrder.objects.count() == LabLine.objects.count() == 1


def test_one_that_cannot_be_ordered_lets_none_be_ordered():
    rows = [*ready(1), made(cast.danuta(), "K12", "checked")]
    assert refused(ordered, rows) == ("two_steps",)
    assert states(rows) == ["file_ready", "checked"]
    assert not LabOrder.objects.exists()


def test_whoever_is_at_grave_risk_is_left_out_and_noted_as_not_for_the_lab():
    grave, plain = (
        made(cast.ibrahima(), "K35", "file_ready"),
        made(cast.danuta(), "K12", "file_ready"),
    )
    order = ordered([grave, plain])
    assert [line.print for line in order.lines.all()] == [plain]
    grave.refresh_from_db()
    assert (grave.state, grave.not_at_the_lab, grave.order) == ("file_ready", True, None)
    assert ordered([grave]) is None


def test_one_grave_sitter_in_a_frame_keeps_it_from_the_lab_for_all():
    frame = picture("G01", cast.danuta(), cast.ibrahima())
    row = made(cast.danuta(), "", "file_ready")
    Print.objects.filter(pk=row.pk).update(picture=frame)
    assert ordered([Print.objects.get(pk=row.pk)]) is None
    assert Print.objects.get(pk=row.pk).not_at_the_lab


def test_whoever_came_into_danger_since_is_struck_before_it_is_handed_over():
    rows = ready(2)
    order = ordered(rows)
    Participant.objects.filter(pk=rows[0].person_id).update(level=Risk.GRAVE)
    orders.hand_over(order=order, on=days(0), **by())
    assert states(rows) == ["ordered", "at_the_lab"]
    rows[0].refresh_from_db()
    assert (rows[0].not_at_the_lab, rows[0].order) == (True, None)
    assert [line.came for line in order.lines.all()] == [Came.STRUCK, ""]
    assert order.price == Decimal("12.50")
    assert orders.balance(order).ordered == 1


def test_nothing_left_is_not_handed_over():
    order = ordered(ready(1))
    Participant.objects.update(level=Risk.GRAVE)
    codes = refused(orders.hand_over, order=order, on=days(0), **by())
    assert codes == ("nothing_to_hand_over",)


def test_two_spoilt_and_one_lost_leave_one_print_that_goes_round_again():
    """Ordered 8 and spoilt 2 make 10; collected 7 and given back 2 make 9: one is lost."""
    rows = ready(8)
    order = at_the_lab(rows)
    found = {number: Found(Came.GOOD) for number in range(1, 6)}
    found |= {6: Found(Came.FAULTY, Fault.COLOUR, "too green"), 7: Found(Came.COLLECTED)}
    collect(order, {**found, 8: Found(Came.LOST)}, spoilt=2, waste_slip=2)
    assert states(rows) == [*["checked"] * 5, "faulty", "collected", "lost"]
    sums = orders.balance(order)
    assert (sums.made, sums.home, sums.lost, sums.unnamed) == (10, 9, 1, 0)
    assert order.collected_on == days(0)
    assert rows[5].steps.last().reason == "too green"
    assert LabLine.objects.get(order=order, number=6).fault == Fault.COLOUR
    again = [Print.objects.get(pk=rows[5].pk), Print.objects.get(pk=rows[7].pk)]
    second = ordered(again)
    assert states(again) == ["ordered", "ordered"]
    assert orders.balance(order) == sums
    assert orders.balance(second).waiting == 2


def test_what_was_collected_is_checked_on_another_day_and_the_rest_waits():
    rows = ready(2)
    order = at_the_lab(rows)
    collect(order, {1: Found(Came.COLLECTED)})
    assert (order.collected_on, orders.balance(order).waiting) == (None, 1)
    collect(order, {1: Found(Came.GOOD), 2: Found(Came.GOOD)})
    assert order.collected_on == days(0)
    assert orders.balance(order).gap == 0
    collect(order, {}, spoilt=1)
    assert (order.collected_on, orders.balance(order).unnamed) == (days(0), 1)


def test_a_step_on_the_page_of_a_print_is_seen_on_its_order():
    (row,) = ready(1)
    order = at_the_lab([row])
    row.refresh_from_db()
    for to, came in (("collected", Came.COLLECTED), ("faulty", Came.FAULTY)):
        actions.step(print=row, to=to, on=days(0), **by())
        assert order.lines.get().came == came
    actions.step(print=row, to="ordered", on=days(0), **by())
    assert Print.objects.get(pk=row.pk).order is None, "ordered by hand it is on no order"
    actions.step(print=row, to="at_the_lab", on=days(0), **by())
    assert order.lines.get().came == Came.FAULTY


def test_what_is_not_on_the_order_or_went_elsewhere_is_refused():
    (row,) = ready(1)
    order = at_the_lab([row])
    assert refused(collect, order, {9: Found(Came.GOOD)}) == ("no_such_line",)
    collect(order, {1: Found(Came.FAULTY, Fault.FRAME)})
    row.refresh_from_db()
    ordered([row])
    assert refused(collect, order, {1: Found(Came.GOOD)}) == ("moved_meanwhile",)
    (other,) = [made(cast.danuta(), "K12", "file_ready")]
    there = at_the_lab([other])
    collect(there, {1: Found(Came.COLLECTED)})
    assert refused(collect, there, {1: Found(Came.COLLECTED)}) == ("moved_meanwhile",)


def test_somebody_who_said_no_to_uses_meanwhile_gets_their_print_all_the_same():
    row = made(cast.danuta(), "K12", "file_ready")
    Participant.objects.filter(pk=row.person_id).update(standing="stepped_back")
    assert ordered([Print.objects.get(pk=row.pk)]).lines.count() == 1
