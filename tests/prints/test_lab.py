"""When an order is due, whether it is all there, what a typed price is, and what is unusual."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.prints import lab
from relations.prints.lab import Came, PriceError, Unusual, Why, balance, due, read_price, unusual

ON = date(2026, 11, 23)


def ago(*days: int) -> list[date]:
    return [ON - timedelta(days=one) for one in days]


@pytest.mark.parametrize(
    ("waiting", "ends_in", "why"),
    [
        ([], 3, ()),
        (ago(0, 0, 0, 0), None, ()),
        (ago(0, 0, 0, 0, 0), None, (Why.ENOUGH,)),
        (ago(13), None, ()),
        (ago(1, 14), None, (Why.OLD,)),
        (ago(0), 8, ()),
        (ago(0), 7, (Why.TRIP_ENDS,)),
        (ago(0), 0, (Why.TRIP_ENDS,)),
        (ago(0), -1, ()),
        (ago(20, 0, 0, 0, 0, 0), 2, (Why.ENOUGH, Why.OLD, Why.TRIP_ENDS)),
    ],
)
def test_an_order_is_due_by_number_age_or_the_end_of_the_trip(waiting, ends_in, why):
    """Source: job.md row 27."""
    ends = None if ends_in is None else ON + timedelta(days=ends_in)
    assert due(waiting, ON, ends) == why


def test_an_order_with_two_spoilt_and_one_lost():
    """Eight ordered, two spoilt and given back: ten were made, nine are here, one is lost."""
    lines = [Came.GOOD] * 5 + [Came.FAULTY, Came.COLLECTED, Came.LOST]
    found = balance(lines, spoilt=2, waste=2)
    assert (found.made, found.home, found.gap, found.unnamed) == (10, 9, 1, 0)


def test_an_order_is_even_when_everything_is_in_our_hands():
    found = balance([Came.GOOD, Came.GOOD, Came.STRUCK], spoilt=1, waste=1)
    assert (found.ordered, found.gap, found.unnamed) == (2, 0, 0)


def test_spoilt_prints_that_stayed_at_the_lab_are_missed():
    left = balance([Came.GOOD, ""], spoilt=2, waste=1)
    assert (left.gap, left.waiting, left.unnamed) == (2, 1, 1)
    assert balance([Came.GOOD], spoilt=0, waste=1).unnamed == -1


@given(st.lists(st.sampled_from(["", *Came])), st.integers(0, 9), st.integers(0, 9))
def test_every_line_stands_somewhere(lines, spoilt, waste):
    found = balance(lines, spoilt, waste)
    assert found.ordered == found.collected + found.lost + found.waiting
    assert found.unnamed == spoilt - waste


@pytest.mark.parametrize(
    ("typed", "price"),
    [
        ("12", "12"),
        ("12.50", "12.50"),
        ("12,50", "12.50"),
        ("12,5", "12.50"),
        ("12,", "12"),
        ("0", "0"),
        ("0,125000", None),
        ("12,500", None),
        ("0.500", "0.50"),
        ("12,5000", "12.50"),
        ("1 234,50", "1234.50"),
        ("1\u202f234,50", "1234.50"),
        ("1.234,50", "1234.50"),
        ("1,234.50", "1234.50"),
        ("1'234.50", "1234.50"),
        ("1 234", "1234"),
        ("1234,5", "1234.50"),
        ("١٢٫٥", "12.50"),
        (" 7 ", "7"),
    ],
)
def test_a_price_may_have_a_point_or_a_comma(typed, price):
    if price is None:
        with pytest.raises(PriceError):
            read_price(typed)
    else:
        assert read_price(typed) == Decimal(price)


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("1,234", "price_thousands"),
        ("12.500", "price_thousands"),
        ("12,505", "price_thousands"),
        ("12,5055", "price_fine"),
        ("0,125", "price_fine"),
        ("twelve", "price_shape"),
        ("", "price_shape"),
        ("-3", "price_shape"),
        ("12 EUR", "price_shape"),
        ("1,23,4", "price_shape"),
        ("10 000 000", "price_shape"),
    ],
)
def test_a_price_that_means_two_things_or_none_is_named(typed, code):
    with pytest.raises(PriceError) as caught:
        read_price(typed)
    assert caught.value.code == code


@given(st.integers(0, 999_999_999))
def test_every_price_is_read_back_with_point_and_comma(cents):
    price = Decimal(cents) / 100
    for typed in (f"{price:.2f}", f"{price:.2f}".replace(".", ","), f"{price:,.2f}"):
        assert read_price(typed) == price


def test_what_is_unusual_is_said_and_what_is_not_known_is_not():
    assert unusual(0, 0, []) == ()
    assert unusual(4, 20, [60, 60]) == unusual(4, 32, [30, 90]) == ()
    assert unusual(4, 19, []) == (Unusual.FEW_SHEETS,)
    assert unusual(4, 33, []) == (Unusual.MANY_SHEETS,)
    assert unusual(0, 12, [29]) == (Unusual.SHORT_SITTINGS,)
    assert unusual(4, 0, [91]) == (Unusual.LONG_SITTINGS,)


def test_film_for_twenty_sitters_costs_1000_to_1600_canadian_dollars():
    """Source: the order's own words: common practice, no source."""
    assert lab.film_cost(20) == (1000, 1600)
    assert lab.SHEET_CURRENCY == "CAD"
