"""The artist's stays: their days, their codes, and a place that is never finer than coarse."""

from decimal import Decimal

import pytest

from relations.meetings import stays
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db


def opened(**given):
    days = {"first_day": cast.days(7), "last_day": cast.days(20), "by": cast.artist()}
    return stays.open_trip(**{"code": "T7", **days, **given})


def refusal(act, **given):
    with pytest.raises(Refused) as caught:
        act(**given)
    return caught.value.codes


def test_trip_ends_after_it_begins_and_has_its_own_code() -> None:
    assert opened(currency="EUR").currency == "EUR"
    assert refusal(opened) == ("code_taken",)
    assert refusal(opened, code="T8", last_day=cast.days(6)) == ("backwards",)


def test_place_of_a_trip_is_kept_to_a_tenth_of_a_degree_only() -> None:
    given = {"latitude": Decimal("43.296482"), "longitude": Decimal("-5.369779")}
    trip = stays.place_trip(trip=opened(), by=cast.assistant(), **given)
    trip.refresh_from_db()
    assert (trip.latitude, trip.longitude) == (Decimal("43.3"), Decimal("-5.4"))


@pytest.mark.parametrize("place", [(91, 0), (-91, 0), (0, 181), (0, -181)])
def test_place_is_on_earth(place) -> None:
    given = dict(zip(("latitude", "longitude"), map(Decimal, place), strict=True))
    codes = refusal(stays.place_trip, trip=opened(), by=cast.artist(), **given)
    assert codes == ("not_on_earth",)
