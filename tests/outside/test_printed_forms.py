"""The printed form as other programs read it: qpdf, a PDF/UA checker, poppler, pikepdf.

Bars of words found again and their causes: paper.md 1 and 5. The checker is pdfua 0.1.3 (PyPI),
which looks at 16 of the 106 failure conditions of the Matterhorn Protocol that machines can find.
"""

import re
import subprocess
from collections import Counter
from io import BytesIO
from pathlib import Path

import pdfua
import pikepdf
import pytest

from relations.consent import paper
from relations.consent.values import Use
from relations.documents.render import render
from relations.languages.direction import direction
from tests.consent.test_paper import WORDINGS, form, printed, said, words
from tests.documents.test_tags import nodes, texts_of_glyphs

LANGUAGES = list(WORDINGS)
# Each language once in each column; Arabic also beside French, with which most forms are given.
PAIRS = [*zip(LANGUAGES, [*LANGUAGES[1:], LANGUAGES[0]], strict=True), ("fr", "ar"), ("ar", "fr")]
LEAST = {"ar": 0.90}
OTHERS = 0.99


def of_clauses(lang: str) -> Counter[str]:
    """The words of all clauses, each as often as it stands there."""
    return Counter(
        word
        for clause in WORDINGS[lang]["clauses"]
        for word in words(f"{clause['heading']} {clause['text']}")
    )


def missing(lang: str, content: bytes) -> Counter[str]:
    """The words of the clauses that a reader of the file does not find."""
    return of_clauses(lang) - Counter(words(said(content)))


def cause(lost: Counter[str], content: bytes) -> str:
    """Why words were lost: each beside the nearest words that were found, letter by letter."""
    found = set(words(said(content)))
    lines = []
    for word in list(lost)[:12]:
        near = sorted(found, key=lambda other: -len(set(word) & set(other)))[:2]
        lines.append(f"{word} {word!a} near {near}")
    return "\n".join(lines)


@pytest.mark.needs("pdftotext")
@pytest.mark.parametrize("first, second", PAIRS)
def test_words_of_both_columns_are_found_again(first: str, second: str) -> None:
    content = printed(first, second)
    for lang in (first, second):
        lost = missing(lang, content)
        share = 1 - lost.total() / of_clauses(lang).total()
        assert share >= LEAST.get(lang, OTHERS), f"{lang} {share:.3f}\n{cause(lost, content)}"


@pytest.mark.needs("pdftotext")
def test_arabic_words_are_lost_to_two_habits_of_the_reader_and_to_nothing_else() -> None:
    """It sets no space between a heading and its number, and tells a drawn stretch as a letter."""
    text = said(printed("fr", "ar"))
    assert re.search("[\u0621-\u064a]\u202c\\d", text) and "\u0640" in text
    tidied = re.sub("[\u202a-\u202e]", " ", text).replace("\u0640", "")
    assert of_clauses("ar") - Counter(words(tidied)) == Counter()


@pytest.mark.needs("qpdf")
@pytest.mark.parametrize("first, second", PAIRS)
def test_file_is_sound_for_qpdf(first: str, second: str, tmp_path: Path) -> None:
    path = tmp_path / "form.pdf"
    path.write_bytes(printed(first, second))
    ran = subprocess.run(
        ["qpdf", "--check", path], capture_output=True, text=True, check=False, timeout=60
    )
    assert ran.returncode == 0, ran.stdout
    assert "No syntax or stream encoding errors found" in ran.stdout
    assert "WARNING" not in ran.stdout + ran.stderr


def checked(content: bytes, folder: Path) -> pdfua.Report:
    path = folder / "form.pdf"
    path.write_bytes(content)
    return pdfua.validate(str(path))


@pytest.mark.parametrize("first, second", PAIRS)
def test_checker_of_pdf_ua_has_nothing_to_say(first: str, second: str, tmp_path: Path) -> None:
    report = checked(printed(first, second), tmp_path)
    assert [f"{found.rule_id} {found.message}" for found in report.findings] == []
    assert report.exit_code == 0


def test_checker_of_pdf_ua_speaks_where_tags_are_missing(tmp_path: Path) -> None:
    page = paper.html(form("fr", "ar"))
    bare = render(page, lang="fr", title="70042-74", css=paper.style(), is_tagged=False)
    assert checked(bare, tmp_path).count_by_severity()[pdfua.Severity.ERROR] > 0


@pytest.mark.parametrize("first, second", PAIRS)
def test_each_column_says_its_language_and_no_other_is_said(first: str, second: str) -> None:
    with pikepdf.open(BytesIO(printed(first, second))) as pdf:
        told = Counter(str(node.Lang) for node in nodes(pdf) if "/Lang" in node)
        assert pdf.Root.Lang == first
    assert set(told) == {first, second}
    # Fifteen clauses and eleven uses at the least, on each side of the spine.
    assert min(told.values()) >= 26


@pytest.mark.parametrize("first, second", PAIRS[:3])
def test_heads_of_tables_say_of_what_they_are_the_head(first: str, second: str) -> None:
    with pikepdf.open(BytesIO(printed(first, second))) as pdf:
        heads = [node for node in nodes(pdf) if node.S == "/TH"]
        scopes = Counter(str(node.A.Scope) for node in heads)
    # Two tables: uses (four columns, a row each) and silence (five columns, two rows).
    assert scopes == {"/Column": 9, "/Row": len(Use) + 2}


@pytest.mark.parametrize("first, second", PAIRS[:3])
def test_every_box_to_tick_has_the_name_that_stands_beside_it(first: str, second: str) -> None:
    page = paper.html(form(first, second))
    boxes = re.findall(r'<span[^>]*class="box[^>]*aria-label="([^"]*)"', page)
    assert len(boxes) > 40
    with pikepdf.open(BytesIO(printed(first, second))) as pdf:
        named = Counter(str(node.Alt) for node in nodes(pdf) if "/Alt" in node)
    assert not Counter(boxes) - named
    assert all(named)


@pytest.mark.parametrize("first, second", PAIRS)
def test_every_glyph_of_the_form_means_something(first: str, second: str) -> None:
    with pikepdf.open(BytesIO(printed(first, second))) as pdf:
        assert all(texts_of_glyphs(pdf))


@pytest.mark.parametrize("lang", [lang for lang in LANGUAGES if lang in {"ne", "bn"}])
def test_line_whose_letters_are_reordered_carries_its_words(lang: str) -> None:
    with pikepdf.open(BytesIO(printed("en", lang))) as pdf:
        carried = [
            str(operands[1].ActualText)
            for page in pdf.pages
            for operands, operator in pikepdf.parse_content_stream(page)
            if str(operator) == "BDC" and "/ActualText" in operands[1]
        ]
    whole = Counter(word for line in carried for word in words(line))
    headings = [clause["heading"] for clause in WORDINGS[lang]["clauses"]]
    assert not Counter(word for heading in headings for word in words(heading)) - whole


def test_pairs_hold_every_language_in_both_columns_and_both_directions() -> None:
    assert {first for first, _ in PAIRS} == {second for _, second in PAIRS} == set(LANGUAGES)
    assert {direction(first) for first, _ in PAIRS} == {"ltr", "rtl"}
