"""Catalogues: every word of the site can be translated, and every translation is sound."""

import ast
import re
import subprocess
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from django.conf import settings
from django.utils.translation import to_locale

from relations.languages import catalogues

ROOT = Path(__file__).resolve().parents[2]
TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))
MODULES = sorted(
    path for path in (ROOT / "relations").rglob("*.py") if "migrations" not in path.parts
)
TRANSLATED = [code for code, _name in settings.LANGUAGES if code != settings.LANGUAGE_CODE]
CATALOGUES = sorted((ROOT / "locale").glob("*/LC_MESSAGES/django.po"))

BLOCK = re.compile(r"\{%\s*blocktrans(?:late)?\b.*?\{%\s*endblocktrans(?:late)?\s*%\}", re.DOTALL)
SILENT = re.compile(r"<(svg|style|script)\b.*?</\1>|<!--.*?-->|<!doctype html>", re.DOTALL)
SPOKEN = re.compile(r"""\s(?:alt|aria-label|placeholder|title)=("[^"]*"|'[^']*')""")
TAG = re.compile(r"\{%.*?%\}|\{\{.*?\}\}|\{#.*?#\}", re.DOTALL)
MARKUP = re.compile(r"<[^>]*>|&\w+;")
ARABIC, DEVANAGARI = re.compile("[\u0621-\u064a]"), re.compile("[\u0904-\u0939]")
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


@pytest.fixture(scope="module")
def site() -> Catalog:
    """Every string of the site, looked for once."""
    return catalogues.extract(ROOT)


@pytest.mark.parametrize("path", CATALOGUES, ids=lambda path: path.parts[-3])
def test_no_catalogue_holds_words_the_site_no_longer_says(path: Path, site: Catalog) -> None:
    found = catalogues.problems(catalogues.read(path), site)
    assert [problem.msgid for problem in found if problem.code == "left_over"] == []


@pytest.mark.parametrize("code", TRANSLATED)
def test_every_language_of_the_screens_is_whole(code: str, site: Catalog) -> None:
    """People work in it: a new string of any page is translated in the same commit."""
    path = ROOT / "locale" / to_locale(code) / "LC_MESSAGES" / "django.po"
    found = catalogues.problems(catalogues.read(path), site)
    assert [problem.msgid for problem in found if problem.code == "missing"] == []


@pytest.mark.parametrize("path", CATALOGUES, ids=lambda path: path.parts[-3])
def test_catalogue_says_in_which_language_and_that_a_speaker_is_to_read_it(path: Path) -> None:
    """A draft of a machine, or of somebody who learnt the language, says so in its first line."""
    assert "to be read by a native speaker" in path.read_text("utf-8").splitlines()[0]
    assert str(catalogues.read(path).locale) == path.parts[-3]


def test_every_catalogue_is_of_a_language_of_the_screens() -> None:
    assert {path.parts[-3] for path in CATALOGUES} == {to_locale(code) for code in TRANSLATED}


def test_built_catalogues_are_kept_out_of_git() -> None:
    """A built file of another day would win over the words that it was built from."""
    kept = subprocess.run(
        ["git", "ls-files", "locale"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.split()
    assert "locale/fr/LC_MESSAGES/django.po" in kept
    assert [name for name in kept if name.endswith(".mo")] == []
    assert "*.mo" in (ROOT / ".gitignore").read_text().splitlines()


GLOSSARY = (ROOT / "locale" / "GLOSSARY.md").read_text("utf-8")
HEADINGS = ("English", "French", "Arabic", "Nepali", "meaning")


def terms(text: str) -> list[list[str]]:
    """The rows of the table of terms, cell by cell."""
    lines = [line for line in text.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


def test_glossary_has_one_word_in_each_language_for_each_term() -> None:
    headings, rule, *rows = terms(GLOSSARY)
    assert tuple(headings) == HEADINGS
    assert set("".join(rule)) == {"-"}
    assert len(rows) > 50
    faulty = [row[0] for row in rows if len(row) != len(HEADINGS) or not all(row[:4])]
    assert faulty == []
    assert [row[0] for row in rows if not ARABIC.search(row[2]) and row[2] != row[0]] == []
    assert [row[0] for row in rows if not DEVANAGARI.search(row[3]) and row[3] != row[0]] == []
    said = [row[0] for row in rows]
    assert sorted(set(said)) == sorted(said), "each term once"


def test_glossary_row_without_a_word_is_found() -> None:
    assert terms("| ring | appel | | फोन | |") == [["ring", "appel", "", "फोन", ""]]
