"""Every page in every language of the screens: it says which, runs its way, and is in it whole.

That each says so in English, test_pages.py holds for everybody who may open it.
Each page is read as by the first who may open it, and with its form sent empty; in all languages
but one only the latter where there is one, for it shows the page again. For whom else a page is
drawn otherwise, test_pseudo.py knows that every word can be translated.
"""

import pytest
from django.conf import settings
from django.utils import translation

from tests.house.pages import pages, table
from tests.house.speaking import answers, english, left_in_english, speak

pytestmark = [pytest.mark.django_db, pytest.mark.once]

ORDER = ("artist", "assistant", "keeper", "wording_reader", "unseen", "stranger")
SOURCE = "en"
CODES = [code for code, _name in settings.LANGUAGES if code != SOURCE]
# Read in the gate both as it is looked at and with its form sent empty; the others in the long run.
WHOLE, *MORE = CODES
PAGES_AT_LEAST = 180


def opening(code: str) -> str:
    """How the HTML of a page in this language begins."""
    way = "rtl" if code in settings.LANGUAGES_BIDI else "ltr"
    return f'<!doctype html>\n<html lang="{code}" dir="{way}">'


@pytest.fixture
def spoken(askers):
    """`spoken(code)`: everybody reads that language, until the test ends."""
    yield lambda code: speak(askers, code)
    translation.activate("en")


@pytest.mark.parametrize("code", CODES)
def test_every_page_is_in_the_language_and_says_so(code, askers, made_once, spoken) -> None:
    spoken(code)
    is_said(code, askers, made_once, is_shown_once=code != WHOLE)


@pytest.mark.long
@pytest.mark.parametrize("code", MORE)
def test_every_page_is_so_too_before_its_form_is_sent(code, askers, made_once, spoken) -> None:
    spoken(code)
    is_said(code, askers, made_once, is_shown_once=False)


def is_said(code, askers, samples, *, is_shown_once):
    strings = english(code)
    rows, found, seen = table(), {}, set()
    said = {"who": ORDER, "most": 1, "is_shown_once": is_shown_once}
    for page in pages():
        for where, answer in answers(askers, page, rows[page.name], samples, **said):
            html = answer.content.decode()
            seen.add(page.name)
            if not html.startswith(opening(code)):
                found[where] = html[:80]
            elif answer.headers["Content-Language"] != code:
                found[where] = answer.headers["Content-Language"]
            elif left := left_in_english(html, strings):
                found[where] = left
    assert found == {}
    assert len(seen) >= PAGES_AT_LEAST


def test_what_is_looked_for_is_nearly_all_the_site_says() -> None:
    for code in CODES:
        assert len(english(code)) > 3_500, code
