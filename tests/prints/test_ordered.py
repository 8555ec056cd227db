"""What waits for the lab and who sees it, what an order says, and what prints of a trip cost."""

from decimal import Decimal

import pytest
from django.http import Http404

from relations.meetings.models import Trip
from relations.people.values import Risk
from relations.pictures.models import FilmSheet, Sitting
from relations.prints import ordered
from relations.prints.lab import Unusual, Why
from relations.prints.models import LabLine, LabOrder
from tests import cast
from tests.cast import days
from tests.prints.frames import made
from tests.rows import make

pytestmark = pytest.mark.django_db


def trip(code="T7", first=-3, last=3, **rest):
    return make(Trip, code=code, first_day=days(first), last_day=days(last), **rest)


def test_new_faulty_and_lost_ones_wait_and_others_are_made_elsewhere():
    faulty = made(cast.danuta(), "K12", "faulty")
    ready = made(cast.marcel(), "K01", "file_ready", state_on=days(-20))
    apart = made(cast.bruno(), "K19", "lost", not_at_the_lab=True)
    made(cast.lucas(), "K40", "ordered")
    made(cast.edelmira(), "", "file_ready")
    assert list(ordered.waiting(cast.artist())) == [ready, faulty]
    assert list(ordered.elsewhere(cast.artist())) == [apart]
    assert ordered.why_now([ready, faulty], days(0)) == (Why.OLD,)


def test_an_assistant_sees_what_is_about_people_in_sight():
    row, other = made(cast.danuta(), "K12", "file_ready"), made(cast.marcel(), "K01", "ordered")
    order = make(LabOrder)
    for number, one in enumerate((row, other), start=1):
        make(LabLine, order=order, print=one, number=number)
    hand = cast.assistant()
    assert not ordered.waiting(hand)
    with pytest.raises(Http404):
        ordered.order_or_404(hand, order.code)
    cast.in_sight(cast.danuta(), hand)
    assert list(ordered.waiting(hand)) == [row]
    assert [line.print for line in ordered.lines(hand, ordered.order_or_404(hand, order.code))] == [
        row
    ]
    assert list(ordered.orders(cast.artist())) == [order]
    assert not ordered.orders(cast.keeper())


def test_lines_that_go_round_again_and_lines_that_get_slips():
    order = make(LabOrder)
    came = [("", "at_the_lab"), ("good", "checked"), ("good", "not_home"), ("faulty", "faulty")]
    came += [("lost", "ordered"), ("lost", "lost"), ("struck", "ordered")]
    who = [cast.danuta(), cast.marcel(), cast.bruno(), cast.lucas(), cast.edelmira()]
    who += [cast.ibrahima(), cast.herve()]
    for number, ((what, state), person) in enumerate(zip(came, who, strict=True), start=1):
        row = made(person, f"K{number:02}", state)
        make(LabLine, order=order, print=row, number=number, came=what)
    lines = ordered.lines(cast.artist(), order)
    assert [line.number for line in ordered.to_order_again(lines)] == [4, 6]
    assert [line.number for line in ordered.need_slips(lines)] == [1, 2]
    lines[1].print.not_at_the_lab = True
    assert [line.number for line in ordered.need_slips(lines)] == [1]


def test_the_last_days_of_a_trip_call_for_an_order_and_a_past_trip_does_not():
    row = made(cast.danuta(), "K12", "file_ready")
    assert ordered.trip_of(days(0)) is None
    assert ordered.why_now([row], days(0)) == ()
    past = trip("T5", -30, -20)
    assert ordered.trip_of(days(0)) == past
    assert ordered.why_now([row], days(0)) == ()
    now = trip()
    assert ordered.trip_of(days(0)) == now
    assert ordered.why_now([row], days(0)) == (Why.TRIP_ENDS,)


def test_what_was_struck_and_whoever_came_into_danger_stand_on_no_slip():
    order = make(LabOrder)
    rows = [
        made(cast.danuta(), "K12", "ordered"),
        made(cast.marcel(), "K01", "ordered"),
        made(cast.bruno(), "K19", "ordered", not_at_the_lab=True),
        made(cast.lucas(), "K40", "ordered"),
    ]
    came = ("", "struck", "", "")
    for number, (row, what) in enumerate(zip(rows, came, strict=True), start=1):
        make(LabLine, order=order, print=row, number=number, came=what)
    assert [line.number for line in ordered.slip_lines(order)] == [1, 4]
    lucas = cast.lucas()
    lucas.level = Risk.GRAVE
    lucas.save()
    assert [line.number for line in ordered.slip_lines(order)] == [1]


def test_money_is_that_of_the_trip_and_what_has_no_price_is_counted():
    of = trip(currency="EUR", print_budget=Decimal(100))
    make(LabOrder, trip=of, currency="EUR", price=Decimal("60.50"))
    make(LabOrder, trip=of, currency="EUR", price=None)
    make(LabOrder, trip=of, currency="CAD", price=Decimal(900))
    found = ordered.money(of)
    assert (found.spent, found.left, found.over, found.unpriced) == (
        Decimal("60.50"),
        Decimal("39.50"),
        0,
        1,
    )
    make(LabOrder, trip=of, currency="EUR", price=Decimal(50))
    assert ordered.money(of).over == Decimal("10.50")
    free = ordered.money(trip("T8", 10, 20))
    assert (free.spent, free.left, free.over) == (0, None, 0)


def test_sittings_are_set_beside_what_is_usual():
    of = trip()
    sitting = make(Sitting, trip=of, minutes=120)
    sitting.sitters.add(cast.danuta(), cast.marcel())
    make(Sitting, trip=of).sitters.add(cast.danuta())
    for number in range(1, 9):
        make(FilmSheet, sitting=sitting, number=number)
    found = ordered.usual(of)
    assert (found.sitters, found.sheets, found.least, found.most) == (2, 8, 100, 160)
    assert found.unusual == (Unusual.FEW_SHEETS, Unusual.LONG_SITTINGS)
