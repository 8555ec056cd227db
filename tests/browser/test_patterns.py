"""The look, every pattern at once: axe, width, focus, paper, the mirror, the quick hide."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, expect

from tests.audit import faults
from tests.browser.axe import violations
from tests.browser.conftest import VIEWS, Opener, scrolls_sideways, seen_as, served
from tests.browsing import Browser

PAGES = ["/", "/form/", "/?lang=ar", "/form/?lang=ar", "/?lang=ne"]


@pytest.fixture
def book(db, settings) -> Iterator[str]:
    settings.ROOT_URLCONF = "tests.browser.pattern_book"
    with served() as address:
        yield address


@pytest.mark.parametrize("path", PAGES[:3])
def test_axe_finds_nothing_and_nothing_scrolls_sideways(
    book: str, open_page: Opener, path: str
) -> None:
    page = open_page(axe=True)
    page.goto(book + path)
    found = []
    for name, view in VIEWS.items():
        seen_as(page, view)
        found += [f"{name}: {fault}" for fault in violations(page)]
        found += [f"{name}: scrolls sideways"] * scrolls_sideways(page)
    assert found == []


@pytest.mark.parametrize("path", PAGES)
def test_html_is_sound(book: str, path: str) -> None:
    assert faults(Browser(int(book.rpartition(":")[2])).ask(path).text) == []


def test_page_made_bad_on_purpose_fails(book: str, open_page: Opener) -> None:
    page = open_page(axe=True)
    page.goto(book + "/form/")
    page.evaluate(
        "document.querySelector('label[for=id_code]').remove();"
        "document.body.insertAdjacentHTML('beforeend', '<img src=\"/x.webp\">')"
    )
    found = " ".join(violations(page))
    assert "label: #id_code" in found
    assert "image-alt" in found


def test_page_without_its_style_sheet_fails(book: str, open_page: Opener) -> None:
    page = open_page(axe=True)
    page.route("**/site.css", lambda route: route.abort())
    page.goto(book)
    assert "the style sheet did not load" in violations(page)


def test_error_summary_takes_the_focus_without_scripts(book: str, open_page: Opener) -> None:
    page = open_page(java_script_enabled=False)
    page.goto(book + "/form/")
    expect(page).to_have_title("Look again – Style – Portraits")
    expect(page.locator(".errsum")).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#id_name")).to_be_focused()


def test_every_stop_of_the_keyboard_has_an_outline(book: str, open_page: Opener) -> None:
    page = open_page()
    page.goto(book)
    bare = []
    for _ in range(60):
        page.keyboard.press("Tab")
        seen = page.evaluate(
            "(e => e === document.body ? null : [getComputedStyle(e).outlineStyle, e.outerHTML])"
            "(document.activeElement)"
        )
        if seen is None:
            break
        bare += [seen[1]] * (seen[0] == "none")
    assert bare == []


def test_skip_link_comes_first_and_leads_past_the_ways(book: str, open_page: Opener) -> None:
    page = open_page(java_script_enabled=False)
    page.goto(book)
    page.keyboard.press("Tab")
    expect(page.locator(".skip")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("#main")).to_be_focused()


def test_presses_are_large_enough_for_a_thumb(book: str, open_page: Opener) -> None:
    """44 CSS px: WCAG 2.1, success criterion 2.5.5."""
    page = open_page()
    for path in ("/", "/form/"):
        page.goto(book + path)
        small = page.evaluate(
            "[...document.querySelectorAll('button, .btn, .nav a, .bar a, select, "
            "input:not([type=radio], [type=checkbox], [type=hidden]), .ticks .opt label')]"
            ".filter(e => e.getBoundingClientRect().height < 43.9).map(e => e.outerHTML)"
        )
        assert small == []


def _shift(page: Page, css: str) -> float:
    return float(page.evaluate(f"document.querySelector('{css}').getBoundingClientRect().left"))


def test_right_to_left_page_is_the_mirror_of_the_other(book: str, open_page: Opener) -> None:
    page = open_page(viewport={"width": 1280, "height": 900})
    page.goto(book)
    left = _shift(page, ".block > h2")
    page.goto(book + "/?lang=ar")
    assert left < 640 < _shift(page, ".block > h2")


@pytest.mark.parametrize("presses", [1, 2])
def test_escape_pressed_twice_hides_the_page(book: str, open_page: Opener, presses: int) -> None:
    page = open_page()
    page.goto(book)
    for _ in range(presses):
        page.keyboard.press("Escape")
    page.wait_for_timeout(300)
    assert page.url == book + ("/out/" if presses == 2 else "/")


def test_hide_needs_no_script(book: str, open_page: Opener) -> None:
    page = open_page(java_script_enabled=False)
    page.goto(book)
    page.get_by_role("button", name="Hide").click()
    assert page.url == book + "/out/"


def test_stamps_keep_a_border_in_forced_colours(book: str, open_page: Opener) -> None:
    page = open_page(forced_colors="active")
    page.goto(book)
    widths = page.evaluate(
        "[...document.querySelectorAll('.st, .care, .stop')]"
        ".map(e => parseFloat(getComputedStyle(e).borderTopWidth))"
    )
    assert widths
    assert min(widths) >= 1


def test_paper_shows_neither_ways_nor_presses(book: str, open_page: Opener) -> None:
    page = open_page()
    page.goto(book)
    page.emulate_media(media="print")
    for css in (".mast", ".nav", ".bar", ".btn", ".strip"):
        expect(page.locator(css).first).to_be_hidden()
    expect(page.locator("h1")).to_be_visible()
