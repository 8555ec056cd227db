"""The page on which the blanks of a trip are counted."""

import pytest

from relations.consent.models import Form
from relations.meetings.models import Trip
from tests import cast
from tests.audit import faults
from tests.rows import make

pytestmark = pytest.mark.django_db


@pytest.fixture
def trip():
    return make(Trip, code="T7")


def seen(client, user=None):
    answer = cast.signed_in(client, user or cast.assistant()).get("/trips/T7/balance/")
    html = answer.content.decode()
    assert not faults(html)
    return html


def test_trip_without_blanks_says_so(client, trip):
    assert "No blank was signed out." in seen(client)


def test_blank_that_nobody_accounts_for_leads_to_where_that_is_said(client, trip):
    form = make(Form, trip=trip, state="carried")
    html = seen(client)
    assert "1 blank is not accounted for yet." in html
    assert f"/forms/{form.sheet.serial}/move/" in html
    assert "Balanced" not in html


def test_missing_blank_is_named_with_what_to_do(client, trip):
    form = make(Form, trip=trip, state="missing")
    html = seen(client, cast.artist())
    assert "Counted, and something is missing." in html
    assert f"/forms/{form.sheet.serial}/move/" in html
    assert 'href="/alarm/"' in html
    assert "Look in every bag" in html


def test_trip_whose_blanks_are_all_accounted_for_is_balanced(client, trip):
    make(Form, trip=trip, state="spoilt")
    html = seen(client)
    assert "Balanced: every blank is accounted for." in html
    assert "Look in every bag" not in html


def test_trip_that_is_not_there_is_not_found(client):
    there = cast.signed_in(client, cast.artist())
    assert there.get("/trips/T99/balance/").status_code == 404
