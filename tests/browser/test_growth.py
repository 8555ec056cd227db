"""The drawings in a browser: by keyboard, aloud, on every screen, and printed in grey."""

import re

import pytest
from playwright.sync_api import Page

from tests.browser.axe import violations
from tests.browser.conftest import DESK, PHONE, Opener, come_in, scrolls_sideways

LINE = "/introductions/growth/line/01/"
WHOLE = "/introductions/growth/whole/all/"


@pytest.fixture
def page(site: str, open_page: Opener) -> Page:
    page = open_page(axe=True, viewport=PHONE)
    come_in(page, site, "ines")
    return page


def focused(page: Page) -> str:
    """Where the focus is: the address that its link leads to."""
    return str(page.evaluate("document.activeElement.getAttribute('href')"))


def test_every_person_takes_focus_in_the_order_of_the_rows(page: Page, site: str) -> None:
    page.goto(site + WHOLE)
    links = page.locator("svg.growth a")
    wanted = [link.get_attribute("href") for link in links.all()]
    assert len(wanted) == 42
    rows = [link.bounding_box()["y"] for link in links.all()]
    assert rows == sorted(rows)
    table = [f"#{row.get_attribute('id')}" for row in page.locator("tr[id]").all()]
    assert table == wanted
    page.locator("figure a[href='#same']").focus()
    reached = []
    for _ in wanted:
        page.keyboard.press("Tab")
        reached.append(focused(page))
    assert reached == wanted
    ring = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert ring != "none"


def test_a_mark_says_all_of_itself_once_and_leads_to_its_row(page: Page, site: str) -> None:
    page.goto(site + LINE)
    said = page.locator("svg.growth a[href='#p21']")
    assert re.match(
        r"21, Cèdre, has sat, .*word from 20, .*6 people", said.get_attribute("aria-label")
    )
    assert page.locator("svg.growth a title").count() == 0
    assert page.locator("svg.growth").get_attribute("role") == "group"
    said.click()
    assert page.url.endswith("#p21")


def test_a_mark_can_be_touched_on_a_telephone(page: Page, site: str) -> None:
    """WCAG 2.2, 2.5.8: 24 by 24 CSS pixels."""
    page.goto(site + LINE)
    for link in page.locator("svg.growth a").all():
        box = link.bounding_box()
        assert min(box["width"], box["height"]) >= 24


def test_the_drawing_can_be_skipped(page: Page, site: str) -> None:
    page.goto(site + LINE)
    page.get_by_text("Skip the drawing").press("Enter")
    page.keyboard.press("Tab")
    assert focused(page) == "/introductions/person/01/"


@pytest.mark.parametrize(
    "address",
    [LINE, WHOLE, "/introductions/steps/whole/all/", "/introductions/person/19/"],
)
def test_a_drawing_fits_every_screen_and_axe_finds_nothing(
    page: Page, site: str, address: str
) -> None:
    page.goto(site + address)
    for view, scheme in ((PHONE, "light"), (DESK, "dark")):
        page.set_viewport_size(view)
        page.emulate_media(color_scheme=scheme)
        assert violations(page) == []
        assert not scrolls_sideways(page)
        box = page.locator("div.across").bounding_box()
        for label in page.locator("svg.growth text").all():
            inside = label.bounding_box()
            assert inside["x"] + inside["width"] <= box["x"] + box["width"]


def test_names_are_shown_by_a_press_in_a_box_that_scrolls_by_itself(page: Page, site: str) -> None:
    page.goto(site + LINE)
    assert "Marcel" not in page.content()
    page.get_by_role("button", name="Show the names").click()
    assert page.locator("svg.growth text", has_text="Marcel").count() == 1
    assert violations(page) == []
    assert not scrolls_sideways(page)
    assert page.evaluate(
        "(box => box.scrollWidth > box.clientWidth)(document.querySelector('.across'))"
    )


def test_no_label_meets_a_line_as_the_browser_draws_it(page: Page, site: str) -> None:
    """The letters of this machine, not the table of widths; trunks that stand left of a label."""
    page.goto(site + WHOLE)
    trunks = page.evaluate(
        "[...document.querySelectorAll('svg.growth > g[fill=none] > line')]"
        ".map(l => l.getBoundingClientRect()).map(r => [r.left, r.top, r.bottom])"
    )
    labels = [text.bounding_box() for text in page.locator("svg.growth a text").all()]
    assert len(trunks) > 10
    hit = [
        (box, trunk)
        for box in labels
        for trunk in trunks
        if trunk[1] < box["y"] + box["height"] * 0.75
        and trunk[2] > box["y"] + box["height"] * 0.25
        and box["x"] < trunk[0] < box["x"] + box["width"]
    ]
    assert hit == []
