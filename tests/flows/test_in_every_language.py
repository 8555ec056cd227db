"""Every page that a link leads to is in the user's language to its last word, for who chose it.

The filled rehearsal has what no made-up row has: long stories, every state of a form and a print.
"""

import re
from collections.abc import Iterator

import pytest
from django.conf import settings
from django.utils import translation

from relations.privacy.models import User
from tests.flows.hand import Hand
from tests.flows.test_doors import links
from tests.house.speaking import english, left_in_english

CODES = [code for code, _name in settings.LANGUAGES if code != "en"]
READERS = [("loic", code) for code in CODES] + [("ines", "fr"), ("ines", "ar")]
PAGES_AT_LEAST = 80


@pytest.fixture
def chosen(rehearsal) -> Iterator[None]:
    """What was chosen for a test is forgotten after it."""
    yield
    translation.activate("en")


def reached(user: User, most: int | None = None) -> Iterator[tuple[str, str]]:
    """The pages that links lead to from Today, one of each kind; address and HTML."""
    hand, waiting, seen = Hand(user), ["/"], set()
    while waiting:
        address = waiting.pop(0)
        kind = re.sub(r"/[^/]*\d[^/]*(?=/)", "/1", address.partition("?")[0])
        if kind in seen or (most and len(seen) >= most):
            continue
        seen.add(kind)
        answer = hand.client.get(address)
        if "html" in answer.headers["Content-Type"]:
            html = answer.content.decode()
            yield address, html
            waiting += links(html)


def test_english_left_on_a_page_is_found() -> None:
    strings = frozenset({"Hide", "Let them rest until %(day)s.", "Heard"})
    page = "<p>Cacher</p><p>Let them rest until 3 mai.</p><b>Heard of it</b>"
    assert left_in_english(page, strings) == {"Let them rest until %(day)s."}
    assert left_in_english('<input type="submit" value="Hide">', strings) == {"Hide"}
    assert left_in_english('<a aria-label="Heard"></a>', strings) == {"Heard"}
    assert left_in_english('<p lang="en">Hide</p><p>Heard</p>', strings) == {"Heard"}


@pytest.mark.parametrize("code", CODES)
def test_day_and_ring_card_of_the_assistant_are_in_their_language(chosen, code: str) -> None:
    User.objects.update(language=code)
    for address, html in reached(User.objects.get(username="loic"), most=4):
        assert f'<html lang="{code}"' in html, address
        assert left_in_english(html, english(code)) == set(), address


@pytest.mark.long
@pytest.mark.parametrize("username, code", READERS)
def test_every_page_that_links_lead_to_is_in_their_language(chosen, username, code) -> None:
    User.objects.update(language=code)
    pages = 0
    for address, html in reached(User.objects.get(username=username)):
        assert left_in_english(html, english(code)) == set(), address
        pages += 1
    assert pages > PAGES_AT_LEAST
