"""Every page of the filled rehearsal, for every role: axe, HTML, no sideways scroll, the mirror.

One page is opened and then seen at two widths and in two schemes. A page of the artist's is so
seen by the others only in `long`, but for those that hold every pattern: the style is the same.
"""

from collections.abc import Callable, Iterator

import pytest
from django.test import Client
from django.urls import resolve
from playwright.sync_api import Page

from relations.privacy.models import Role, User
from tests import at_the_door
from tests.audit import faults
from tests.browser import everywhere
from tests.browser.axe import UNDRESSED, violations
from tests.browser.conftest import DESK, PHONE, Opener, come_in, scrolls_sideways

ROLES = {
    Role.ARTIST: "ines",
    Role.ASSISTANT: "loic",
    Role.WORDING_READER: "reader-ar",
    Role.KEEPER: "aude",
}
# The page behind Hide wears no dress of this site, so that nothing tells what it was.
BARE = "/away/"
# Pages that hold every pattern: lists, tables, forms, the card, the weighing.
MIRRORED = (
    *("/", "/person/12/", "/people/new/", "/meetings/ring/12/", "/forms/", "/uses/plan/E1/"),
    *("/introductions/", "/prints/", "/pictures/", "/alarm/", "/forms/wordings/ar/1/"),
    "/introductions/tables/",
)
# As many pages at least as a role had when this was written: a page that vanishes is missed.
AT_LEAST = {Role.ARTIST: 70, Role.ASSISTANT: 55, Role.WORDING_READER: 6, Role.KEEPER: 8}


@pytest.mark.parametrize("role", list(ROLES))
def test_axe_finds_nothing_light_or_dark_and_nothing_scrolls(
    site: str, open_page: Opener, role: Role
) -> None:
    page = open_page(axe=True)
    assert list(found_on(page, site, role, is_seen_twice=is_own_or_holds_patterns)) == []


@pytest.mark.long
@pytest.mark.parametrize("role", [Role.ASSISTANT, Role.WORDING_READER, Role.KEEPER])
def test_axe_finds_nothing_wide_and_dark_on_what_the_artist_sees_too(
    site: str, open_page: Opener, role: Role
) -> None:
    page = open_page(axe=True)
    assert list(found_on(page, site, role, is_seen_twice=lambda *_: True)) == []


def is_own_or_holds_patterns(role: Role, address: str) -> bool:
    """Whether a page is the artist's, no page of the artist's, or holds patterns of many."""
    is_artists = Role.ARTIST in getattr(resolve(address).func, "roles", Role.values)
    return role == Role.ARTIST or not is_artists or address in MIRRORED


def found_on(
    page: Page, site: str, role: Role, is_seen_twice: Callable[[Role, str], bool]
) -> Iterator[str]:
    """What is wrong with the pages of a role."""
    addresses = known_addresses(role)
    assert len(addresses) >= AT_LEAST[role]
    come_in(page, site, ROLES[role])
    for address in addresses:
        yield from seen_narrow(page, site, address)
        if is_seen_twice(role, address):
            yield from seen_wide(page, address)


def known_addresses(role: Role) -> list[str]:
    """The pages of a role, with everybody in sight for the assistant."""
    user = User.objects.get(username=ROLES[role])
    if role == Role.ASSISTANT:
        everywhere.put_everybody_in_sight(user)
    # First, since the alarm among the samples ends every session of an assistant.
    known = everywhere.samples(role)
    client = Client()
    at_the_door.come_in(client, user)
    return list(everywhere.addresses(client, role, known))


def seen_narrow(page: Page, site: str, address: str) -> Iterator[str]:
    """Open a page and say what is wrong: its HTML, and how it looks light and narrow."""
    page.set_viewport_size(PHONE)
    page.emulate_media(color_scheme="light")
    answer = page.goto(site + address)
    assert answer is not None
    yield from (f"{address}: {fault}" for fault in faults(answer.text()))
    if scrolls_sideways(page):
        yield f"{address}: scrolls sideways at {PHONE['width']} px"
    yield from (f"{address}, light: {fault}" for fault in dressed(address, violations(page)))


def seen_wide(page: Page, address: str) -> Iterator[str]:
    """What is wrong with the page that is open when it is dark and wide."""
    page.emulate_media(color_scheme="dark")
    page.set_viewport_size(DESK)
    if scrolls_sideways(page):
        yield f"{address}: scrolls sideways at {DESK['width']} px"
    yield from (f"{address}, dark: {fault}" for fault in dressed(address, violations(page)))


def dressed(address: str, found: list[str]) -> list[str]:
    """The faults that count: the bare page may lack the style sheet, and must."""
    if address != BARE:
        return found
    assert UNDRESSED in found
    return [fault for fault in found if fault != UNDRESSED]


def test_pages_hold_when_they_run_from_right_to_left(site: str, open_page: Opener) -> None:
    User.objects.filter(username="ines").update(language="ar")
    page = open_page(axe=True)
    come_in(page, site, "ines")
    found = []
    for address in MIRRORED:
        page.goto(site + address)
        assert page.locator("html").get_attribute("dir") == "rtl", address
        found += [f"{address}: {fault}" for fault in violations(page)]
        found += [f"{address}: scrolls sideways"] * scrolls_sideways(page)
    assert found == []
