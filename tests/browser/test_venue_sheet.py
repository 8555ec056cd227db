"""A curator reads a sheet by its phrase, the sitter stops, and the open sheet says so.

The curator has no account and no scripts; the artist and the assistant each have a browser.
"""

from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from relations.privacy.models import WrongTries
from relations.uses import venue
from relations.uses.models import ClearanceSheet
from tests.browser.conftest import DESK, Opener, come_in, scrolls_sideways

DANUTA = "12"


@pytest.fixture
def artist(open_page: Opener, site: str) -> Page:
    page = open_page(viewport=DESK)
    come_in(page, site, "ines")
    return page


def made_by(artist: Page, site: str) -> tuple[str, str]:
    """The artist puts E1 on a sheet and makes a link: its address and the phrase."""
    artist.goto(f"{site}/uses/plan/E1/")
    artist.get_by_role("link", name="Put on a sheet").click()
    artist.get_by_role("button", name="Weigh again and make the sheet").click()
    artist.get_by_role("button", name="Make a link").click()
    address, phrase = artist.locator(".bycode").all_inner_texts()
    return address, phrase


def opened(open_page: Opener, address: str, phrase: str) -> Page:
    """A venue on a small telephone that types a phrase."""
    page = open_page(java_script_enabled=False)
    page.goto(address)
    return typed(page, phrase)


def typed(page: Page, phrase: str) -> Page:
    page.locator("main [name=phrase]").fill(phrase)
    page.get_by_role("button", name="Open the sheet").click()
    assert not scrolls_sideways(page)
    return page


def says(page: Page, words: str) -> None:
    expect(page.locator("main")).to_contain_text(words)


def test_open_sheet_says_out_of_date_after_a_stop_and_old_links_end(artist, open_page, site):
    address, phrase = made_by(artist, site)
    curator = opened(open_page, address, phrase)
    says(curator, "16 pictures on this sheet")
    says(curator, "K12")
    expect(curator.locator("nav")).to_have_count(0)
    curator.get_by_role("button", name="We have read this and will keep to it").click()
    says(curator, "You confirmed on 23 November 2026")

    assistant = open_page()
    come_in(assistant, site, "loic")
    assistant.goto(f"{site}/uses/stop/")
    assistant.locator("main [name=code]").fill(DANUTA)
    assistant.get_by_role("button", name="Go on").click()
    assistant.get_by_role("button", name="Stop everything").click()
    says(assistant, "It is stopped")

    curator.reload()
    says(curator, "This sheet is out of date")
    says(curator, "Take down at once, and show no more: K12")
    expect(curator.locator("main")).not_to_contain_text("K01")
    says(opened(open_page, address, phrase), "This opens no sheet.")
    artist.goto(f"{site}/uses/sheets/1/")
    says(artist, "This sheet is out of date")

    newer, other = made_by(artist, site)
    assert (newer, other) != (address, phrase)
    curator.reload()
    says(curator, "Sheet 2 of 23 November 2026 took its place")
    says(curator, "K12: left out. Take it down, and show it no more.")
    says(opened(open_page, newer, other), "15 pictures on this sheet")


def test_wrong_phrases_slow_down_and_lock(artist, open_page, site):
    address, phrase = made_by(artist, site)
    curator = opened(open_page, address, "WRONG")
    for _ in range(4):
        typed(curator, "WRONG")
    says(typed(curator, phrase), "This opens no sheet.")

    a_quarter_of_an_hour_later()
    says(typed(curator, phrase), "16 pictures on this sheet")

    ClearanceSheet.objects.update(wrong_phrases=venue.MOST_WRONG - 1)
    says(opened(open_page, address, "WRONG"), "This opens no sheet.")
    a_quarter_of_an_hour_later()
    says(opened(open_page, address, phrase), "This opens no sheet.")
    artist.goto(f"{site}/uses/sheets/1/")
    says(artist, "Too many wrong phrases: the link is locked.")


def a_quarter_of_an_hour_later() -> None:
    """Make what was noted of wrong tries older."""
    gone = timezone.now() - timedelta(minutes=16)
    WrongTries.objects.update(last_at=gone)
    WrongTries.objects.exclude(held_until=None).update(held_until=gone)
