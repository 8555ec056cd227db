"""What a page says, and what of it is not in the language that it should be in."""

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from django.utils.translation import to_locale

from relations.languages import catalogues
from relations.privacy.models import User
from tests.house import pseudo
from tests.house.asking import Asker
from tests.house.pages import WHO, Page, wanted
from tests.parsed import parsed

ROOT = Path(__file__).resolve().parents[2]
SAID_ALOUD = ("alt", "aria-label", "placeholder", "title", "data-ask")
SILENT = ("script", "style", "textarea")
# Words that are looked for by themselves only, since they may stand inside other words.
FEW = 3
READ = {"200", "422"}
WHOLE = "fr"
# What turned out to be a paper, a picture or a file, by page and method: it is made once only.
PAPERS: set[tuple[str, str]] = set()
Text = tuple[str, bool]  # what is said, and whether it is a person's own words


def po(code: str) -> Path:
    """The catalogue of a language of the screens."""
    return ROOT / "locale" / to_locale(code) / "LC_MESSAGES" / "django.po"


def texts(catalogue: Any) -> dict[str, str]:
    """The English of each message, with what the catalogue says instead ("" where it is silent)."""
    found = {}
    for message in catalogue:
        ids = [message.id] if isinstance(message.id, str) else list(message.id)
        said = message.string or ""
        said = [said] if isinstance(said, str) else list(said)
        found |= {key: said[min(at, len(said) - 1)] for at, key in enumerate(ids) if key}
    return found


@cache
def source() -> Any:
    """Every string of the site: what a whole catalogue holds, no more and no less.

    That each does, test_catalogues.py asks the modules and templates themselves.
    """
    return catalogues.read(po(WHOLE))


@cache
def english(code: str) -> frozenset[str]:
    """Every string of the site that reads otherwise in this language."""
    site, there = texts(source()), texts(catalogues.read(po(code)))
    return frozenset(key for key in site if there.get(key) != key)


def shown(html: str) -> Iterator[str]:
    """Every text of a page that is read or spoken, but what says in which language it is itself."""
    return (text for text, _is_own in said(html))


def said(html: str) -> Iterator[Text]:
    """The same, each with whether it stands isolated, as a person's own words and codes do."""
    page = parsed(html)
    page.attrib.pop("lang", None)
    page.attrib.pop("dir", None)
    return _within(page, False)


def _within(element: Any, is_own: bool) -> Iterator[Text]:
    if element.get("lang"):
        return
    is_own = is_own or element.tag == "bdi" or bool(element.get("dir"))
    if element.tag not in SILENT:
        yield element.text or "", is_own
    yield from ((element.get(name, ""), is_own) for name in SAID_ALOUD)
    if element.tag == "input" and element.get("type") == "submit":
        yield element.get("value", ""), is_own
    for inside in element:
        if isinstance(inside.tag, str):
            yield from _within(inside, is_own)
        yield inside.tail or "", is_own


def plain(text: str) -> str:
    """Words with one space between them, and a sign of per cent as it is shown."""
    return " ".join(text.replace("%%", "%").split())


def long_pieces(key: str) -> list[str]:
    """What of a string stands between its values and tags, where it is some words long."""
    pieces = [plain(piece) for piece in re.split(r"%\(\w+\)[sd]|<[^>]+>", key)]
    return [piece for piece in pieces if len(piece.split()) >= FEW]


@cache
def _pieces(strings: frozenset[str]) -> dict[str, list[tuple[str, str]]]:
    """Long pieces with their strings by their second word, which stands alone on a page, too."""
    found: dict[str, list[tuple[str, str]]] = {}
    for key in strings:
        for piece in long_pieces(key):
            found.setdefault(piece.split()[1], []).append((piece, key))
    return found


@cache
def _whole(strings: frozenset[str]) -> dict[str, str]:
    return {plain(key): key for key in strings}


def left_in_english(html: str, strings: frozenset[str]) -> set[str]:
    """What of the site's own English stands on a page: short words alone, longer ones anywhere."""
    found = [plain(text) for text in shown(html)]
    whole, pieces, alone = "\n".join(found), _pieces(strings), _whole(strings)
    near = (pair for word in set(whole.split()) for pair in pieces.get(word, ()))
    there = {key for piece, key in near if piece in whole}
    return there | {alone[text] for text in found if text in alone}


def speak(askers: Mapping[str, Asker], code: str) -> None:
    """Everybody reads this language, strangers by their browser's wish.

    Nobody's name is made of plain letters, or it would be taken for a word of the site.
    """
    for asker in askers.values():
        asker.client.defaults["HTTP_ACCEPT_LANGUAGE"] = code
    for user in User.objects.all():
        user.called, user.username = pseudo.spoken(user.called), pseudo.spoken(user.username)
        user.language = code
        user.save(update_fields=["called", "username", "language"])


def answers(
    askers: Mapping[str, Asker],
    page: Page,
    row: Mapping[str, str],
    samples: dict[str, str],
    *,
    who: Iterable[str] = WHO,
    most: int = len(WHO),
    is_shown_once: bool = False,
) -> Iterator[tuple[str, Any]]:
    """What those who may open a page read there: the page, and its form sent empty, as HTML.

    `who` says whom to ask, and in which order; `most`, after how many readers it is enough. A
    page that `is_shown_once` is not looked at where its form sent empty shows it again.
    """
    address, asked = page.address(samples), 0
    for one in who:
        methods = [method for method in ("GET", "POST") if wanted(row[one], method) in READ]
        last = methods[-1:] if is_shown_once else methods
        for method in last if asked < most else ():
            if (page.name, method) in PAPERS:
                continue
            answer = askers[one].ask(method, address).answer
            if "html" in answer.headers.get("Content-Type", ""):
                yield f"{page.name} {method} as {one}", answer
            else:
                PAPERS.add((page.name, method))
        asked += bool(methods)
