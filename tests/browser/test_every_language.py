"""The pages that are used most, in every language of the screens: axe, no sideways scroll, letters.

Narrow and light, then wide and dark; every other page is looked at so in English by
test_every_page.py, and every pattern both ways at either width by test_patterns.py.
"""

from collections.abc import Iterator

import pytest
from django.conf import settings
from playwright.sync_api import Page

from relations.privacy.models import User
from tests.audit import faults
from tests.browser.axe import violations
from tests.browser.conftest import VIEWS, Opener, come_in, scrolls_sideways, seen_as

# Today, a person, a form and the weighing.
PAGES = {"loic": ("/", "/people/new/"), "ines": ("/person/12/", "/uses/plan/E1/")}
CODES = [code for code, _name in settings.LANGUAGES]
HOW = "[document.documentElement.lang, getComputedStyle(document.body).direction]"


BRIEF = ("phone", "desk dark")
WHOLE = pytest.param(tuple(VIEWS), marks=pytest.mark.long, id="every view")


@pytest.mark.parametrize("views", [pytest.param(BRIEF, id="two views"), WHOLE])
@pytest.mark.parametrize("code", CODES)
def test_pages_hold_in_every_language(
    code: str, views: tuple[str, ...], site: str, open_page: Opener
) -> None:
    User.objects.update(language=code)
    found = []
    for username, addresses in PAGES.items():
        page = open_page(axe=True)
        come_in(page, site, username)
        for address in addresses:
            found += [f"{address}{fault}" for fault in looked_at(page, site + address, code, views)]
    assert found == []


def looked_at(page: Page, address: str, code: str, views: tuple[str, ...]) -> Iterator[str]:
    """What is wrong with one page, as every reader of it may see it."""
    answer = page.goto(address)
    assert answer is not None
    yield from (f": {fault}" for fault in faults(answer.text()))
    assert page.evaluate(HOW) == [code, "rtl" if code in settings.LANGUAGES_BIDI else "ltr"]
    for name in views:
        seen_as(page, VIEWS[name])
        if scrolls_sideways(page):
            yield f": scrolls sideways, {name}"
        yield from (f", {name}: {fault}" for fault in violations(page))


# What is drawn of a letter; a font that lacks it draws the same box for every one.
DRAWN = """(letters) => letters.map((letter) => {
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = 40;
  const pen = canvas.getContext("2d");
  pen.font = "24px sans-serif";
  pen.fillText(letter, 8, 28);
  return canvas.toDataURL();
})"""
LETTERS = ["A", "b", "é", "ب", "ت", "ع", "क", "ख", "र्\u200dय", "\U0010fffd"]


def test_every_letter_of_our_languages_is_drawn(open_page: Opener) -> None:
    """Also on a machine without fonts for them: the browser knows those of our papers, too."""
    drawn = open_page().evaluate(DRAWN, LETTERS)
    assert len(set(drawn)) == len(LETTERS)
