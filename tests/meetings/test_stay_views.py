"""Pages of trips and of the light on their days."""

import pytest
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import translation

from relations.languages.templatetags.words import hour
from relations.meetings.models import Trip
from tests import cast
from tests.meetings.test_views import page, send
from tests.rows import make

pytestmark = pytest.mark.django_db


@pytest.fixture
def as_loic(client):
    return cast.signed_in(client, cast.assistant())


def test_trip_is_opened_and_listed(as_loic) -> None:
    assert "No trip yet" in page(as_loic, "meetings:trips")
    page(as_loic, "meetings:new_trip")
    days = {"first_day": "2026-11-30", "last_day": "2026-12-13"}
    send(as_loic, "meetings:new_trip", code="T7", **days)
    assert Trip.objects.get().code == "T7"
    assert "30 November 2026" in page(as_loic, "meetings:trips")
    answer = send(as_loic, "meetings:new_trip", code="T7", **days)
    assert answer.status_code == 422
    assert "taken" in answer.content.decode()


def test_light_of_a_trip_is_worked_out_at_the_coarse_place_typed_for_it(as_loic) -> None:
    trip = make(Trip, code="T7", first_day=cast.days(7), last_day=cast.days(20))
    assert "Day by day" not in page(as_loic, "meetings:light_of", "T7")
    sent = send(as_loic, "meetings:light_of", "T7", latitude="43,2965", longitude="٥.٤")
    assert sent.status_code == 302
    trip.refresh_from_db()
    assert (str(trip.latitude), str(trip.longitude)) == ("43.3", "5.4")
    text = page(as_loic, "meetings:light_of", "T7")
    # 30 November 2026 at 43.3, 5.4, to the nearest minute: 07:49:33 and 17:04:13.
    assert "07:50" in text
    assert "17:04" in text
    assert "Hills, buildings and weather are not known." in text


@pytest.mark.parametrize("lang", ["en", "ar"])
def test_hours_of_the_sun_are_one_piece_from_the_first_to_the_last(lang) -> None:
    """As every pair of hours of these pages: a line that runs from the right does not turn them."""
    rise, end = cast.moment().replace(hour=7), cast.moment().replace(hour=17)
    light = {"rise": rise, "set": end, "low": [(rise, end)]}
    with translation.override(lang):
        for name in ("_rise_and_set", "_low_sun"):
            said = render_to_string(f"meetings/{name}.html", {"day_light": light})
            assert said.strip() == f'<bdi dir="ltr" class="nw">{hour(rise)} – {hour(end)}</bdi>'


def test_place_beyond_the_earth_or_in_words_is_refused_beside_its_field(as_loic) -> None:
    make(Trip, code="T7")
    for typed in ("91", "the mole", ""):
        answer = send(as_loic, "meetings:light_of", "T7", latitude=typed, longitude="5.4")
        assert answer.status_code == 422
        assert "id_latitude_error" in answer.content.decode()


def test_light_of_no_such_trip_is_not_found(as_loic) -> None:
    assert as_loic.get(reverse("meetings:light_of", args=["T9"])).status_code == 404
