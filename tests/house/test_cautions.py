"""Each caution stands where the hand is, on every page the table names for it."""

import re
from fnmatch import fnmatch
from html import unescape

import pytest
from django.template.loader import render_to_string
from django.utils.html import strip_tags

from tests.house.cautions import CAUTIONS, LATER
from tests.house.rooms import ROOT

TEMPLATES = ROOT / "templates"
INCLUDED = re.compile(r"{%\s*(?:include|extends)\s+[\"']([^\"']+)[\"']")
PAGES = [
    (key, str(path.relative_to(TEMPLATES)))
    for key, caution in CAUTIONS.items()
    for path in sorted(TEMPLATES.rglob("*.html"))
    if any(fnmatch(str(path.relative_to(TEMPLATES)), pattern) for pattern in caution.pages)
]


def standing_on(page: str) -> set[str]:
    """The keys of the cautions that a template includes, through its parts and what it extends."""
    seen, waiting = set(), [page]
    while waiting:
        name = waiting.pop()
        path = TEMPLATES / name
        if name not in seen and path.exists():
            seen.add(name)
            waiting += INCLUDED.findall(path.read_text(encoding="utf-8"))
    return {name[10:-5] for name in seen if name.startswith("_cautions/")}


def said_by(key: str) -> str:
    """What a reader of a caution reads, without its marks."""
    return unescape(strip_tags(render_to_string(f"_cautions/{key}.html")))


def test_every_caution_has_one_template_and_every_template_a_caution():
    assert {path.stem for path in (TEMPLATES / "_cautions").glob("*.html")} == set(CAUTIONS)


@pytest.mark.parametrize("key", CAUTIONS)
def test_caution_says_its_words(key):
    assert CAUTIONS[key].words in said_by(key)


@pytest.mark.parametrize(("key", "page"), PAGES)
def test_page_carries_its_caution(key, page):
    assert key in standing_on(page)


@pytest.mark.parametrize("key", CAUTIONS)
def test_caution_stands_somewhere_unless_its_page_is_still_to_come(key):
    pages = [str(path.relative_to(TEMPLATES)) for path in TEMPLATES.rglob("*.html")]
    own = f"_cautions/{key}.html"
    stands = any(key in standing_on(page) for page in pages if page != own)
    assert stands == (key not in LATER)
