"""Catalogues: every word of the site can be translated, and every translation is sound."""

import ast
import re
from pathlib import Path

import pytest

from relations.languages import catalogues

ROOT = Path(__file__).resolve().parents[2]
TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))
MODULES = sorted(
    path for path in (ROOT / "relations").rglob("*.py") if "migrations" not in path.parts
)
CATALOGUES = sorted((ROOT / "locale").glob("*/LC_MESSAGES/django.po"))

BLOCK = re.compile(r"\{%\s*blocktrans(?:late)?\b.*?\{%\s*endblocktrans(?:late)?\s*%\}", re.DOTALL)
SILENT = re.compile(r"<(svg|style|script)\b.*?</\1>|<!--.*?-->|<!doctype html>", re.DOTALL)
SPOKEN = re.compile(r"""\s(?:alt|aria-label|placeholder|title)=("[^"]*"|'[^']*')""")
TAG = re.compile(r"\{%.*?%\}|\{\{.*?\}\}|\{#.*?#\}", re.DOTALL)
MARKUP = re.compile(r"<[^>]*>|&\w+;")
WORD = re.compile(r"[^\W\d_]{2,}")


def untranslatable(text: str) -> list[str]:
    """Words of a template that stand outside every translating tag."""
    text = TAG.sub("", BLOCK.sub("", text))
    spoken = " ".join(SPOKEN.findall(text))
    return WORD.findall(MARKUP.sub(" ", SILENT.sub("", text)) + " " + spoken)


def unreadable(module: ast.Module) -> list[int]:
    """Lines that ask for the translation of something that is no literal, which nobody can find."""
    return [
        node.lineno
        for node in ast.walk(module)
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in catalogues.KEYWORDS
        and not (node.args and isinstance(node.args[0], ast.Constant))
    ]


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: str(path.relative_to(ROOT)))
def test_every_word_of_a_template_is_in_the_catalogue(path: Path) -> None:
    assert untranslatable(path.read_text("utf-8")) == []


@pytest.mark.parametrize(
    "planted",
    [
        "<p>Hide</p>",
        "{% if a %}Hide{% endif %}",
        '<a title="Hide" href="{{ x }}"></a>',
        "{% blocktranslate %}a{% endblocktranslate %} Hide",
    ],
)
def test_word_that_cannot_be_translated_is_found(planted: str) -> None:
    assert untranslatable(planted) == ["Hide"]


def test_every_translated_name_in_a_module_is_a_literal() -> None:
    found = {
        str(path.relative_to(ROOT)): lines
        for path in MODULES
        if (lines := unreadable(ast.parse(path.read_text("utf-8"))))
    }
    assert found == {}
    assert unreadable(ast.parse("_(name)")) == [1]


def test_no_template_translates_a_variable() -> None:
    asked = re.compile(r"\{%\s*trans(?:late)?\s+[^\"'\s]")
    assert [path.name for path in TEMPLATES if asked.search(path.read_text("utf-8"))] == []


@pytest.mark.parametrize("path", CATALOGUES, ids=lambda path: path.parts[-3])
def test_every_catalogue_is_sound(path: Path) -> None:
    assert [str(problem) for problem in catalogues.problems(catalogues.read(path))] == []


def test_no_catalogue_holds_words_the_site_no_longer_says() -> None:
    template = catalogues.extract(ROOT)
    left = {
        path.parts[-3]: [problem.msgid for problem in found if problem.code == "left_over"]
        for path in CATALOGUES
        for found in [catalogues.problems(catalogues.read(path), template)]
    }
    assert left == {language: [] for language in left}
    assert "fr" in left


def test_french_is_whole() -> None:
    """The assistant works in it: a new string of any page is translated in the same commit."""
    french = next(path for path in CATALOGUES if path.parts[-3] == "fr")
    found = catalogues.problems(catalogues.read(french), catalogues.extract(ROOT))
    assert [problem.msgid for problem in found if problem.code == "missing"] == []
    assert "to be read by a native speaker" in french.read_text("utf-8").splitlines()[0]
