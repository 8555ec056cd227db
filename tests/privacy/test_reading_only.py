"""In a set every press but those of the outbox is answered with the way to the outbox."""

from datetime import date
from pathlib import Path
from uuid import UUID

import pytest
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


def test_pages_are_read_and_say_of_which_trip_and_until_when(in_a_set):
    answered = in_a_set.get(reverse("today:write"))
    assert answered.status_code == 200
    assert "Travelling set of T7, until 2999-12-13." in answered.content.decode()


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


def test_every_other_press_is_refused(in_a_set):
    """By name: each page of the site that is no page of the outbox or the door."""
    for page in pages():
        if page.name not in reading_only.OPEN:
            request = in_a_set.request().wsgi_request
            request.method = "POST"
            request.resolver_match = type("Match", (), {"view_name": page.name})()
            refused = reading_only.ReadingOnlyMiddleware(None).process_view(request)
            assert refused is not None, page.name
            assert refused.status_code == 403
