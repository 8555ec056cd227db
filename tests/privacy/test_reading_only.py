"""In a set every press but those of the outbox is answered with the way to the outbox."""

import json
import re
from copy import copy
from datetime import date
from pathlib import Path
from urllib.parse import urlencode
from uuid import UUID

import pytest
from django.http import HttpResponse
from django.urls import reverse

from relations.privacy import context, reading_only
from relations.privacy.home import Home, Travelling
from relations.privacy.models import OutboxEntry, Posted
from relations.privacy.outbox import stand
from relations.today import outbox_views
from tests import cast
from tests.house.pages import pages

pytestmark = pytest.mark.django_db


@pytest.fixture
def in_a_set(monkeypatch, client):
    """The client of an assistant, in a set until a day that is long from now."""
    found = Home(Path("/nowhere"), False, Travelling("T7", date(2999, 12, 13), UUID(int=7)))
    for module in (reading_only, context, outbox_views):
        monkeypatch.setattr(module, "home", lambda: found)
    stand()
    cast.signed_in(client, cast.assistant())
    return client


def test_open_presses_are_pages_of_the_site():
    assert {page.name for page in pages()} >= reading_only.OPEN


def test_press_writes_nothing_and_names_the_outbox(in_a_set):
    cast.in_sight(cast.danuta(), cast.assistant())
    address = reverse("people:never_ring", args=["12"])
    answered = in_a_set.post(address, {"token": str(UUID(int=8))})
    assert answered.status_code == 403
    assert "write what happened in the outbox" in answered.content.decode()
    assert reverse("today:write") in answered.content.decode()
    assert not Posted.objects.exists()


def test_sentences_that_were_typed_are_shown_to_be_copied_and_no_password(in_a_set):
    said = {"why": "She moved <near> the port", "kind": "other", "password": "four boats at sea"}
    address, as_typed = reverse("people:never_ring", args=["12"]), urlencode(said)
    page = in_a_set.post(address, as_typed, "application/x-www-form-urlencoded").content.decode()
    assert "She moved &lt;near&gt; the port" in page
    assert "four boats" not in page
    assert "What you typed" in page
    sent = {"why": "She moved near the port"}
    page = in_a_set.post(address, json.dumps(sent), "application/json").content.decode()
    assert "What you typed" not in page


def test_pages_are_read_and_say_of_which_trip_and_until_when(in_a_set):
    answered = in_a_set.get(reverse("today:write"))
    assert answered.status_code == 200
    assert "Travelling set of T7, until 13 December 2999." in answered.content.decode()


def test_alarm_in_it_says_that_nobody_at_home_hears_of_it(in_a_set):
    asked = in_a_set.get(reverse("rights:alarm")).content.decode()
    assert "Nobody at home hears of it" in asked
    assert "tells the artist" not in asked
    token = re.search(r'name="token" value="([^"]+)"', asked)[1]
    told = in_a_set.post(reverse("rights:alarm"), {"what": "phone", "token": token}, follow=True)
    assert "Nobody at home knows yet" in told.content.decode()
    assert "The artist sees" not in told.content.decode()


def test_stop_of_the_bar_leads_to_what_is_written_down(in_a_set):
    page = in_a_set.get(reverse("meetings:rings")).content.decode()
    assert reverse("uses:stop_whom") not in page
    bar = page[page.index('class="bar') :]
    assert f'href="{reverse("today:write")}"' in bar


def test_stranger_at_it_finds_no_form_for_an_alarm_but_the_way_home(in_a_set):
    in_a_set.logout()
    page = in_a_set.get(reverse("rights:lost")).content.decode()
    assert "at the register’s own address" in page
    assert "<form" not in page


def test_what_it_does_not_hold_is_not_said_to_be_nothing(in_a_set):
    person = cast.danuta()
    cast.in_sight(person, cast.assistant())
    page = in_a_set.get(reverse("today:person", args=["12"])).content.decode()
    assert "Earlier rings stay at home" in page
    assert "What was promised stays at home" in page
    assert "Planned rings stay at home" in in_a_set.get(reverse("meetings:rings")).content.decode()
    shown = in_a_set.get(reverse("today:today")).content.decode()
    assert "Rings that fit now" not in shown
    assert reverse("people:rang_us") not in shown


def test_home_has_neither_line_nor_bar(client):
    cast.signed_in(client, cast.assistant())
    assert "Travelling set" not in client.get(reverse("today:write")).content.decode()


def test_form_without_a_script_is_sealed_and_kept_once(in_a_set):
    said = {"kind": "stop", "code": "12", "what": "all", "day": "2026-11-23"}
    for _ in range(2):
        answered = in_a_set.post(reverse("today:write"), {**said, "token": str(UUID(int=9))})
        assert (answered.status_code, answered["Location"]) == (302, reverse("today:waiting"))
    entry = OutboxEntry.objects.get()
    assert (entry.pk, entry.state, list(entry.said)) == (UUID(int=9), "unread", ["sealed"])
    assert "It is sealed to the register at home" in in_a_set.get("/outbox/").content.decode()


def test_form_whose_token_is_none_of_ours_is_kept_all_the_same(in_a_set):
    said = {"kind": "stop", "code": "12", "what": "all", "day": "2026-11-23", "token": "x"}
    assert in_a_set.post(reverse("today:write"), said).status_code == 302
    assert OutboxEntry.objects.count() == 1


def test_every_other_press_is_refused(in_a_set, monkeypatch):
    """By name: each page of the site that is no page of the outbox or the door.

    The page they are all answered with is looked at above; here it is only named.
    """
    monkeypatch.setattr(
        reading_only,
        "render",
        lambda request, template, said, status: HttpResponse(template, status=status),
    )
    asked = in_a_set.request().wsgi_request
    for page in pages():
        if page.name not in reading_only.OPEN:
            request = copy(asked)
            request.method = "POST"
            request.resolver_match = type("Match", (), {"view_name": page.name})()
            refused = reading_only.ReadingOnlyMiddleware(None).process_view(request)
            assert refused is not None, page.name
            assert refused.status_code == 403
            assert refused.content == b"privacy/reading_only.html"
