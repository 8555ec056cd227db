"""The pages of a trip: what is planned and packed, and whether all came home."""

from datetime import timedelta
from uuid import uuid4

import pytest

from relations.consent.models import Form
from relations.meetings.models import TravellingSet
from relations.rights.models import Alarm
from relations.trips import packing, queries
from relations.trips.models import Count, Stay
from tests import cast
from tests.audit import faults
from tests.prints.frames import made
from tests.rows import make
from tests.trips import desk
from tests.trips.test_rules import HELD

pytestmark = pytest.mark.django_db
COUNTED = {f"{thing}_{how}": n for thing, heaps in HELD.items() for how, n in heaps.items()}


@pytest.fixture
def trip():
    return desk.trip()


def seen(client, user=None, page="balance/"):
    answer = cast.signed_in(client, user or cast.assistant()).get(f"/trips/T7/{page}")
    html = answer.content.decode()
    assert not faults(html)
    return html


def sent(client, page, user=None, **typed):
    there = cast.signed_in(client, user or cast.assistant())
    return there.post(f"/trips/T7/{page}", {"token": str(uuid4()), **typed})


def test_trip_without_blanks_says_so(client, trip):
    assert "No blank was signed out." in seen(client)


def test_blank_that_nobody_accounts_for_leads_to_where_that_is_said(client, trip):
    form = make(Form, trip=trip, state="carried")
    html = seen(client)
    assert "1 blank is not accounted for yet." in html
    assert f"/forms/{form.sheet.serial}/move/" in html
    assert "Balanced" not in html


def test_missing_blank_is_named_with_what_to_do(client, trip):
    form = make(Form, trip=trip, state="missing", carried_by=cast.assistant())
    html = seen(client, cast.artist())
    assert "Counted, and something is missing." in html
    assert f"/forms/{form.sheet.serial}/move/" in html
    assert "No alarm names it." in html
    assert 'action="/trips/T7/balance/alarm/"' in html
    assert "Look in every bag" in html
    assert sent(client, "balance/alarm/").headers["Location"] == "/trips/T7/balance/"
    html = seen(client, cast.artist())
    assert "alarm open" in html
    assert "Open the alarm with these serials" not in html
    Alarm.objects.update(closed_on=cast.TODAY)
    assert "Write it off" in seen(client)
    assert sent(client, f"balance/{form.sheet.serial}/").status_code == 302
    assert "Balanced: every blank is accounted for." in seen(client)


def test_trip_whose_blanks_are_all_accounted_for_is_balanced(client, trip):
    make(Form, trip=trip, state="spoilt")
    html = seen(client)
    assert "Balanced: every blank is accounted for." in html
    assert "Look in every bag" not in html


def test_trip_that_is_not_there_is_not_found(client):
    there = cast.signed_in(client, cast.artist())
    assert there.get("/trips/T99/balance/").status_code == 404


def test_blank_of_another_trip_is_not_written_off_here(client, trip):
    other = make(Form, state="missing")
    assert sent(client, f"balance/{other.sheet.serial}/").status_code == 404


def test_blank_whose_alarm_is_open_is_not_written_off(client, trip):
    form = make(Form, trip=trip, state="missing")
    answer = sent(client, f"balance/{form.sheet.serial}/")
    assert answer.status_code == 422
    assert "Its alarm is still open." in answer.content.decode()


def test_trip_at_a_look_says_what_is_needed_and_leads_on(client, trip):
    desk.days(trip, 14, rounds=3)
    person = desk.sitter("fr", code="12", call_name="Danuta")
    desk.plan(trip, person, others=2)
    html = seen(client, cast.artist(), page="")
    for words in ("Danuta", "2 come along", "Sitting, 6 sheets", "8</span> · 4 holders"):
        assert words in html
    for page in ("pack", "days", "portfolio", "balance", "plan"):
        assert f'href="/trips/T7/{page}/"' in html
    theirs = seen(client, page="")
    assert "Danuta" not in theirs
    assert "1 more person is planned, whom you see on the day before." in theirs


def test_trip_without_days_asks_for_them_and_makes_no_pack(client, trip):
    assert "No day is set yet." in seen(client, page="")
    html = seen(client, page="pack/")
    assert "Without days there is no pack." in html
    assert "Whole pack" not in html
    answer = sent(client, "pack/", part="whole")
    assert answer.status_code == 422
    assert "Say first on which days you work." in answer.content.decode()
    assert "pdf" not in answer.headers["Content-Type"]


def test_pack_without_a_blank_leads_to_where_they_are_printed(client, trip):
    desk.days(trip, 1)
    assert "/forms/blanks/T7/" in seen(client, page="pack/")
    assert sent(client, "pack/", part="short").status_code == 422


def test_pack_is_answered_once_as_a_pdf(client, trip, monkeypatch):
    pressed = []
    monkeypatch.setattr(packing, "pack", lambda **how: pressed.append(how["part"]) or b"%PDF-1")
    token = str(uuid4())
    answer = sent(client, "pack/", part="short", token=token)
    assert (answer.content, answer.headers["Content-Type"]) == (b"%PDF-1", "application/pdf")
    assert answer.headers["Content-Disposition"] == 'inline; filename="pack-T7.pdf"'
    assert sent(client, "pack/", part="short", token=token).headers["Location"] == "/trips/T7/pack/"
    assert pressed == ["short"]


@pytest.mark.parametrize(
    ("begin", "cut", "says"),
    [
        ("16:20", "17:00", "The whole pack fits: 4 minutes"),
        ("16:47", "17:00", "Print the short pack, 2 minutes"),
        ("16:59", "17:00", "Even the short pack needs 2 minutes"),
    ],
)
def test_pack_says_whether_it_fits_before_the_power_goes(client, trip, begin, cut, says):
    """Fifteen pages, three of them on top: 4 and 2 minutes at 6 a minute."""
    desk.days(trip, 14)
    assert says in seen(client, page=f"pack/?begin={begin}&cut={cut}&a_minute=6")


def test_hour_that_is_none_is_said_and_no_verdict_given(client, trip):
    html = seen(client, page="pack/?begin=16:20&cut=late&a_minute=6")
    assert "This is no hour." in html
    assert '<p role="status">' not in html


def test_days_and_plans_are_typed(client, trip):
    answer = sent(client, "days/", days=["2026-11-30", "2026-12-01"], rounds=["2026-12-01"])
    assert answer.headers["Location"] == "/trips/T7/"
    assert [day.has_round for day in queries.days(trip)] == [False, True]
    assert "Mon 30 Nov 2026" in seen(client, page="days/").replace(",", "")
    person = desk.sitter(code="12")
    cast.in_sight(person, cast.assistant())
    assert sent(client, "plan/", code="12", with_camera="on").status_code == 302
    assert trip.meetings.get().person == person
    assert "Nobody with this code" in sent(client, "plan/", code="99").content.decode()


def test_portfolio_is_the_artists_since_it_follows_the_levels(client, trip):
    html = seen(client, cast.artist(), page="portfolio/")
    assert "0 pictures may be carried." in html
    assert "Stay at home" in html
    there = cast.signed_in(client, cast.assistant())
    assert there.get("/trips/T7/portfolio/").status_code == 404
    assert "portfolio" not in seen(client, page="")


def test_counts_are_typed_and_what_does_not_agree_is_said(client, trip, settings):
    settings.RELATIONS_TODAY = desk.LAST + timedelta(days=1)
    assert sent(client, "balance/", **{**COUNTED, "money_spent": 180, "film_processed": 58}) \
        .status_code == 302  # fmt: skip
    html = seen(client)
    assert "Exposed: 1 too many." in html
    assert "The film does not come to zero." in html
    assert Count.objects.get(thing="money", how="spent").number == 18_000
    assert sent(client, "close/").status_code == 422
    money = {"money_taken": "240", "money_spent": "180.50", "money_brought_back": "59.50"}
    sent(client, "balance/", **{**COUNTED, **money})
    assert "Everything is home." in seen(client)
    assert sent(client, "close/").headers["Location"] == "/trips/T7/balance/"
    html = seen(client)
    assert "This trip was closed on 14 December 2026." in html
    assert "This is what I counted" not in html
    assert 'href="/trips/T7/days/"' not in seen(client, page="")


def test_trip_is_not_closed_before_it_is_over(client, trip):
    sent(client, "balance/", **COUNTED)
    html = sent(client, "close/").content.decode()
    assert not faults(html)
    assert "This trip is not over yet." in html


def test_kept_prints_to_ask_about_stand_on_the_page_of_the_trip(client, trip):
    made(cast.danuta(), "K12", "kept_for_them", box="B12")
    made(cast.marcel(), "K01", "kept_for_them", state_on=trip.first_day)
    html = seen(client, cast.artist(), page="")
    assert 'href="/prints/12/K12/asked_how/"' in html
    assert "/prints/01/K01/" not in html, "asked on this very trip"
    html = seen(client, page="")
    assert "1 more print is kept, for somebody whom you see on a day of the trip." in html
    assert "Danuta" not in html
    cast.in_sight(cast.danuta(), cast.assistant())
    html = seen(client, page="")
    assert "Danuta" in html
    assert "more print is kept" not in html
    make(Stay, trip=trip, closed_on=cast.TODAY, closed_by=cast.artist())
    assert "ask again" not in seen(client, cast.artist(), page="")


def test_trip_without_a_travelling_set_says_nothing_of_one(client, trip):
    assert "Travelling set" not in seen(client, page="")


def test_trip_says_what_became_of_its_travelling_sets(client, trip):
    user, at = cast.assistant(), cast.moment()
    out = {"trip": trip, "made_for": user, "made_at": at, "last_day": trip.last_day}
    make(TravellingSet, **out, came_home_at=cast.moment(trip.last_day))
    make(TravellingSet, **out, ended_at=at, ended_how="given_up")
    make(TravellingSet, **out, ended_at=at, ended_how="alarm")
    make(TravellingSet, **out, secret="what opens it at home")
    html = seen(client, page="")
    for said in ("Came home on", "Given up on", "Ended by an alarm on", "carried"):
        assert html.count(said) == 1
    assert html.count("opens until") == 4
    assert "cannot be wiped from afar" in html
    assert "what opens it at home" not in html
