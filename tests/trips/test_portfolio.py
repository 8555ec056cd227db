"""Which pictures may be carried on a trip, by its place and its days."""

from datetime import timedelta

import pytest

from relations.consent.values import Use
from relations.trips import actions, portfolio
from tests import cast
from tests.trips import desk

pytestmark = pytest.mark.django_db


def codes(found):
    return [one.picture for one in found]


def test_trip_is_a_carried_portfolio_without_names_in_its_countries_on_its_days():
    trip = desk.trip()
    actions.set_days(trip=trip, days=[desk.FIRST], countries=["IT", "FR"], by=cast.artist())
    found = portfolio.plan(trip)
    assert (found.use, found.starts_on, found.ends_on) == (Use.PORTFOLIO, desk.FIRST, desk.LAST)
    assert (found.countries, found.shows_captions) == (frozenset({"FR", "IT"}), False)


@pytest.mark.usefixtures("rehearsal")
def test_seventh_trip_carries_exactly_six_and_says_why_the_others_stay():
    """Journey 1, computed from the demo's own forms; days and place decide."""
    trip = desk.Trip.objects.get(code="T7")
    found = portfolio.portfolio(trip, cast.TODAY)
    assert codes(found.carried) == ["K01", "K02", "K10", "K12", "K36b", "K38"]
    why = {one.picture: [reason.code for reason in one.answer.stops] for one in found.stays}
    assert (why["K20"], why["K24"], why["K36a"]) == (["CHECK-IN"], ["WORDING"], ["STRANGER"])
    assert len(found.carried) + len(found.stays) == 33


@pytest.mark.usefixtures("rehearsal")
def test_other_days_carry_others():
    """Seven months later nobody has spoken for 180 days with the one at raised risk (10)."""
    trip = desk.Trip.objects.get(code="T7")
    trip.first_day += timedelta(days=210)
    trip.last_day += timedelta(days=210)
    assert "K10" not in codes(portfolio.portfolio(trip, cast.TODAY).carried)
