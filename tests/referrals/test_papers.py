"""The drawing on paper: all scripts right, sheets that lead on, nothing of anybody in the file."""

import re
import subprocess
from datetime import date
from io import BytesIO
from typing import Any

import pikepdf
import pytest

from relations.people.values import Risk, Standing
from relations.referrals import papers
from relations.referrals.drawing import Drawn
from relations.referrals.papers import Paper, Sheets, paper
from relations.referrals.scopes import By, Scope
from relations.referrals.values import Known
from tests.referrals.grown import drawn

DAY = date(2026, 11, 25)


class House:
    """An invented project in the place of what is read from the database."""

    def __init__(self, people: int, *, is_named: bool = False, left: int = 0) -> None:
        self.plan, self.left = drawn(people, is_named=is_named), left
        self.web = self.plan.web
        self.names = {one.code: one.label for one in self.plan.people.values()} if is_named else {}
        self.groups = {key: key.capitalize() for key in self.plan.groups}
        self.known = {
            code: Known(code, one.community, Standing.NAMED, Risk.GRAVE, one.has_sat, one.has_print)
            for code, one in self.plan.people.items()
        }

    def label(self, code: str) -> str:
        return self.names.get(code) or code

    def drawn(self, scope: Scope) -> tuple[Drawn, int]:
        return self.plan, self.left


def made(people: int, on: Paper = Paper.A4, spread: Sheets = Sheets.MANY, **rest: Any) -> bytes:
    scope = Scope(By.WHOLE, "all", "Everybody", people)
    house = House(people, **rest)
    return paper(house, scope, on=on, spread=spread, printed=DAY)  # type: ignore[arg-type]


def text(content: bytes) -> str:
    ran = subprocess.run(["pdftotext", "-", "-"], input=content, capture_output=True, check=True)
    return ran.stdout.decode()


@pytest.fixture(scope="module")
def named() -> bytes:
    return made(42, is_named=True)


@pytest.mark.needs("pdftotext")
def test_names_of_all_scripts_are_text_that_can_be_read(named: bytes) -> None:
    """The Arabic letters are joined by the engine and come back as they are written."""
    said = text(named)
    assert "Maria das Dores Fortes-Lima" in said
    assert "দাউদ" in said
    assert re.search("ثريا|حدوش", said)
    assert "the most dangerous page" in said.replace("\n", " ")
    assert "25 November 2026" in said


def test_nothing_of_anybody_is_in_what_the_file_says_of_itself(named: bytes) -> None:
    with pikepdf.open(BytesIO(named)) as pdf:
        assert str(pdf.docinfo.get("/Title")) == "Introductions"
        assert set(pdf.docinfo) <= {"/Title", "/Producer"}
        about = bytes(pdf.Root.Metadata.read_bytes()).decode()
    assert not re.search("Fortes|Zoé|2026|line of", about)


@pytest.mark.needs("pdftotext")
def test_sheets_are_numbered_and_each_has_axis_key_and_caution(named: bytes) -> None:
    with pikepdf.open(BytesIO(named)) as pdf:
        count = len(pdf.pages)
        sizes = {tuple(round(float(side)) for side in page.mediabox[2:]) for page in pdf.pages}
    assert (count, sizes) == (2, {(842, 595)})
    said = text(named)
    assert "sheet 2 of 2" in said
    assert said.count("heard each month") == said.count("has sat") == count


def test_on_a_larger_paper_the_same_people_take_one_sheet() -> None:
    with pikepdf.open(BytesIO(made(42, Paper.A3))) as pdf:
        assert len(pdf.pages) == 1
        assert tuple(round(float(side)) for side in pdf.pages[0].mediabox[2:]) == (1191, 842)


@pytest.mark.needs("pdftotext")
def test_a_few_people_are_drawn_larger_and_by_code() -> None:
    said = text(made(5))
    assert "01" in said
    assert "Zoé" not in said


@pytest.mark.needs("pdftotext")
def test_too_many_for_one_sheet_are_drawn_by_line_and_it_says_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def refuse(*_: object) -> None:
        raise papers.TooManyError

    monkeypatch.setattr(papers, "overview", refuse)
    said = text(made(42, spread=Sheets.ONE)).replace("\n", " ")
    assert "One row a line" in said
    assert re.search(r"01: \d+", said)


@pytest.mark.needs("pdftotext")
def test_where_some_are_left_out_one_sheet_is_drawn_by_line_and_many_say_how_many() -> None:
    assert "One row a line" in text(made(9, spread=Sheets.ONE, left=3)).replace("\n", " ")
    said = text(made(9, left=3)).replace("\n", " ")
    assert "3 people with fewest people behind them are not drawn." in said


@pytest.mark.long
def test_three_hundred_fit_one_large_sheet_in_thin_rows() -> None:
    with pikepdf.open(BytesIO(made(300, Paper.A3, Sheets.ONE, is_named=True))) as pdf:
        assert len(pdf.pages) == 1
