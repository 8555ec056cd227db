"""The papers other than the form, with what somebody typed on them, as other programs read them."""

import re
import subprocess
from pathlib import Path

import pdfua
import pytest

from relations.documents import papers
from relations.documents.columns import line
from relations.documents.render import MissingLetters, OutsideAddress, render
from tests.consent.test_paper import said
from tests.documents.hostile import SNIPPETS
from tests.documents.test_papers import column, paper


def with_words(words: str, one: str = "fr", other: str = "ar") -> papers.Paper:
    """A sheet on the shared style, with words from outside set where a number or a day stands."""
    columns = column(one), column(other)
    return paper(one, other, foot=line(columns, "foot", [("tel", words), ("tel", "")]))


@pytest.mark.parametrize("snippet", SNIPPETS.values(), ids=SNIPPETS)
def test_snippet_on_a_sheet_never_becomes_markup(snippet: str) -> None:
    assert snippet not in papers.html(with_words(snippet), 1)


@pytest.mark.needs("pdftotext")
@pytest.mark.parametrize("what", ["frame", "embedded"])
def test_snippet_on_a_sheet_is_printed_as_letters(what: str) -> None:
    # Beside Bengali: beside Arabic the reader itself moves a last sign to the other end.
    content = papers.lay(with_words(SNIPPETS[what], "fr", "bn")).content
    assert re.sub(r"\s", "", SNIPPETS[what]) in re.sub(r"\s", "", said(content))


@pytest.mark.parametrize("snippet", SNIPPETS.values(), ids=SNIPPETS)
def test_snippet_planted_in_the_template_of_a_sheet_stops_it(snippet: str) -> None:
    planted = papers.html(paper(), 1).replace("</body>", f"{snippet}</body>")
    with pytest.raises(OutsideAddress):
        render(planted, lang="fr", title="70042-74", css=papers.style("A4"))


def test_tamil_name_on_a_sheet_stops_it_and_its_letters_are_named() -> None:
    with pytest.raises(MissingLetters) as refused:
        papers.lay(with_words("தமிழ்"))
    assert {letter[-1] for letter in refused.value.letters} == set("தமிழ்")


@pytest.mark.parametrize("one, other", [("fr", "ar"), ("ar", "bn"), ("bn", "fr")])
def test_checker_of_pdf_ua_has_nothing_to_say_of_a_sheet(
    one: str, other: str, tmp_path: Path
) -> None:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(papers.lay(paper(one, other, times=12)).content)
    report = pdfua.validate(str(path))
    assert [f"{found.rule_id} {found.message}" for found in report.findings] == []


@pytest.mark.needs("qpdf")
def test_sheet_is_sound_for_qpdf(tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(papers.lay(paper("bn", "ar", times=12)).content)
    ran = subprocess.run(
        ["qpdf", "--check", path], capture_output=True, text=True, check=False, timeout=60
    )
    assert ran.returncode == 0, ran.stdout
