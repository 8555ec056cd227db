"""Every page that the assistant sees is in French, to its last word, for one who chose French."""

import re
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

import html5lib
import pytest
from django.utils import translation

from relations.languages import catalogues
from relations.privacy.models import User
from tests.flows.hand import Hand
from tests.flows.test_doors import links

ROOT = Path(__file__).resolve().parents[2]
FRENCH = ROOT / "locale/fr/LC_MESSAGES/django.po"
SAID_ALOUD = ("alt", "aria-label", "placeholder", "title")
SILENT = ("script", "style")
# Words that are looked for by themselves only, since they may stand inside other words.
FEW = 3


def texts(catalogue) -> dict[str, str]:
    """The English of each message, with what the catalogue says instead ("" where it is silent)."""
    found = {}
    for message in catalogue:
        ids = [message.id] if isinstance(message.id, str) else list(message.id)
        said = message.string or ""
        said = [said] if isinstance(said, str) else list(said)
        found |= {key: said[min(at, len(said) - 1)] for at, key in enumerate(ids) if key}
    return found


def english() -> set[str]:
    """Every string of the site that reads otherwise in French."""
    site, french = texts(catalogues.extract(ROOT)), texts(catalogues.read(FRENCH))
    return {key for key in site if french.get(key) != key}


def shown(html: str) -> Iterator[str]:
    """Every text of a page that is read or spoken, but what says in which language it is itself."""
    page = html5lib.parse(html, namespaceHTMLElements=False)
    page.attrib.pop("lang", None)
    return _within(page)


def _within(element) -> Iterator[str]:
    if element.get("lang"):
        return
    if element.tag not in SILENT:
        yield element.text or ""
    yield from (element.get(name, "") for name in SAID_ALOUD)
    if element.tag == "input" and element.get("type") == "submit":
        yield element.get("value", "")
    for inside in element:
        if isinstance(inside.tag, str):
            yield from _within(inside)
        yield inside.tail or ""


def plain(text: str) -> str:
    return " ".join(text.replace("%%", "%").split())


@cache
def long_pieces(key: str) -> tuple[str, ...]:
    """What of a string stands between its values and tags, where it is some words long."""
    pieces = [plain(piece) for piece in re.split(r"%\(\w+\)[sd]|<[^>]+>", key)]
    return tuple(piece for piece in pieces if len(piece.split()) >= FEW)


def left_in_english(html: str, strings: Iterable[str]) -> set[str]:
    """What of the site's own English stands on a page: short words alone, longer ones anywhere."""
    found = [plain(text) for text in shown(html)]
    alone, whole = set(found), "\n".join(found)
    return {
        key
        for key in strings
        if plain(key) in alone or any(piece in whole for piece in long_pieces(key))
    }


@pytest.fixture
def in_french(settings, tmp_path: Path):
    """The catalogue as it stands now, compiled; everybody reads French."""
    target = tmp_path / "fr/LC_MESSAGES/django.mo"
    target.parent.mkdir(parents=True)
    target.write_bytes(catalogues.compiled(catalogues.read(FRENCH)))
    settings.LOCALE_PATHS = [tmp_path]
    User.objects.update(language="fr")
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
    strings = {"Hide", "Let them rest until %(day)s.", "Heard"}
    page = "<p>Cacher</p><p>Let them rest until 3 mai.</p><b>Heard of it</b>"
    assert left_in_english(page, strings) == {"Let them rest until %(day)s."}
    assert left_in_english('<input type="submit" value="Hide">', strings) == {"Hide"}
    assert left_in_english('<a aria-label="Heard"></a>', strings) == {"Heard"}
    assert left_in_english('<p lang="en">Hide</p><p>Heard</p>', strings) == {"Heard"}
    assert len(english()) > 2000


def test_day_and_ring_card_of_the_assistant_are_in_french(rehearsal, in_french) -> None:
    loic, strings = User.objects.get(username="loic"), english()
    for address, html in reached(loic, most=4):
        assert '<html lang="fr"' in html, address
        assert left_in_english(html, strings) == set(), address


@pytest.mark.long
@pytest.mark.parametrize("username", ["loic", "ines"])
def test_every_page_that_links_lead_to_is_in_french(rehearsal, in_french, username) -> None:
    strings, pages = english(), 0
    for address, html in reached(User.objects.get(username=username)):
        # There the artist's own words stand in the fields, in the language they wrote them in.
        if not address.endswith("/write/"):
            assert left_in_english(html, strings) == set(), address
        pages += 1
    assert pages > 80
