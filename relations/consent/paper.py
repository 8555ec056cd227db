"""The two-language form on paper: one sheet, two sides, the sitter's language first."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from io import BytesIO
from itertools import zip_longest
from typing import NamedTuple

import pikepdf
from django.template.loader import render_to_string

from relations.documents import qr
from relations.documents.overlay import stamp
from relations.documents.render import render
from relations.languages.direction import direction
from relations.pictures.values import PlaceWord

from .values import NameForm, Use

SIDES = 2
# The points of the form in their order; a wording with another one could not be printed whole.
POINTS = (
    *("paper", "who", "plain", "keep", "uses", "places", "days", "name", "care", "silence"),
    *("wish", "machines", "stop", "giving", "day"),
)
WAYS = ("signed", "mark_and_witness", "spoken", "sign_language", "with_support", "child")
CARE = ("no_face", "show_first", "read_words", "quotes")
READY = ("print_only", "walls", "all")
SILENCE = ("cannot_answer", "died")
WISHES = ("go_on", "stop", "ask")


class LengthError(RuntimeError):
    """The form does not fill exactly two sides; `sides` is how many it took."""

    def __init__(self, sides: int) -> None:
        """Keep the number of sides."""
        super().__init__(f"a form must fill {SIDES} sides, not {sides}")
        self.sides = sides


class ClausesDifferError(ValueError):
    """The columns do not both hold the fifteen points, in order, under the same numbers."""


class PaperClause(NamedTuple):
    """One clause in one language, as frozen."""

    key: str
    number: int
    heading: str
    text: str


@dataclass(frozen=True)
class Column:
    """One language of the form: its clauses in order, its labels, its heading or none."""

    lang: str
    clauses: tuple[PaperClause, ...]
    labels: Mapping[str, str]
    heading: str = ""

    @property
    def direction(self) -> str:
        """Give "ltr" or "rtl", the way this language runs."""
        return direction(self.lang)

    def page_words(self, page: int) -> str:
        """Give "side 1 of 2" in this language."""
        return self.labels["page_of"].format(page=page, pages=SIDES)


@dataclass(frozen=True)
class FormPaper:
    """All that one blank form says; it never holds a name.

    `serial` is "70042-74", `version` up to four capital letters or digits, `stop_number` as it
    is to be rung from here, or "" for a line to write on. `payload(page)` gives the text of the
    square code of a page, counted from 1.
    """

    serial: str
    version: str
    first: Column
    second: Column
    stop_number: str
    draft: bool
    payload: Callable[[int], str]

    @property
    def columns(self) -> tuple[Column, Column]:
        """Give both columns, the sitter's language first."""
        return self.first, self.second


class Cell(NamedTuple):
    """Words in one language with all that a template needs to set them."""

    lang: str
    direction: str
    order: str
    words: str
    more: str = ""


class Line(NamedTuple):
    """One line of the form: its code and the same words in both languages."""

    code: str
    first: Cell
    second: Cell

    @property
    def cells(self) -> tuple[Cell, Cell]:
        """Give both cells, the sitter's language first."""
        return self.first, self.second


def _line(paper: FormPaper, code: str, words: Iterable[tuple[str, str]]) -> Line:
    """Set one line; `words` gives, for each column in order, the words and what follows them."""
    first, second = (
        Cell(column.lang, column.direction, order, *said)
        for order, column, said in zip(("first", "second"), paper.columns, words, strict=True)
    )
    return Line(code, first, second)


def _labelled(paper: FormPaper, prefix: str, codes: Iterable[str]) -> list[Line]:
    """Give a line for each code, with the label `prefix` + code of both languages."""
    return [
        _line(paper, code, [(column.labels[prefix + code], "") for column in paper.columns])
        for code in codes
    ]


def _clauses(paper: FormPaper) -> dict[str, Line]:
    """Pair the clauses by key; ClausesDifferError unless both columns are whole and alike."""
    lines = {}
    for pair in zip_longest(*(column.clauses for column in paper.columns)):
        if None in pair or pair[0][:2] != pair[1][:2]:
            raise ClausesDifferError
        key, number = pair[0][:2]
        lines[key] = _line(paper, str(number), [(said.heading, said.text) for said in pair])
    if tuple(lines) != POINTS:
        raise ClausesDifferError
    return lines


def _uses(paper: FormPaper) -> list[Line]:
    """Give the eleven uses, each with its name and its one plain line."""
    return [
        _line(
            paper,
            use,
            [(c.labels[f"use_{use}"], c.labels[f"about_{use}"]) for c in paper.columns],
        )
        for use in Use
    ]


def _pages(paper: FormPaper) -> list[dict[str, object]]:
    """Give what head and foot of each side need: number, words and the square code."""
    return [
        {
            "number": page,
            "words": _line(paper, str(page), [(c.page_words(page), "") for c in paper.columns]),
            "code": qr.picture(paper.payload(page)) if paper.serial else "",
        }
        for page in range(1, SIDES + 1)
    ]


def _frame(paper: FormPaper) -> dict[str, object]:
    """Give what stands around the text: heads, feet and the strip."""
    labels = {key: _labelled(paper, "", (key,))[0] for key in paper.first.labels}
    return {"paper": paper, "labels": labels, "pages": _pages(paper)}


def html(paper: FormPaper) -> str:
    """Write the form as one HTML document; every word of a wording is escaped.

    With serial "" the places of the serial and of the codes stay empty. Raises
    ClausesDifferError when the two wordings do not belong together.
    """
    context = _frame(paper) | {
        "clauses": _clauses(paper),
        "ready": _labelled(paper, "ready_", READY),
        "uses": _uses(paper),
        "names": _labelled(paper, "name_", tuple(NameForm)),
        "places": _labelled(paper, "place_", tuple(PlaceWord)),
        "care": _labelled(paper, "", CARE),
        "silence": _labelled(paper, "", SILENCE),
        "wishes": _labelled(paper, "", WISHES),
        "ways": _labelled(paper, "way_", WAYS),
    }
    return render_to_string("consent/paper/form.html", context)


@cache
def style() -> str:
    """Give the style sheet of the form."""
    return render_to_string("consent/paper/form.css", {"side": qr.SIDE_MM})


@lru_cache(maxsize=16)
def _sheet(page: str, lang: str) -> bytes:
    """Lay out a form without serial: two wordings make one sheet, however many are printed."""
    content = render(page, lang=lang, title="", css=style())
    with pikepdf.open(BytesIO(content)) as document:
        if len(document.pages) != SIDES:
            raise LengthError(len(document.pages))
    return content


def pdf(paper: FormPaper) -> bytes:
    """Make the form's PDF: two A4 sides, tagged, its serial as title and no other metadata.

    The bytes are the same each time on one machine. The first form of two wordings takes some
    forty times as long as a page of one paragraph, each further one some five times. Raises
    LengthError, ClausesDifferError, or what `relations.documents.render.render` raises.
    """
    sheet = _sheet(html(replace(paper, serial="")), paper.first.lang)
    page = render_to_string("consent/paper/serial.html", _frame(paper))
    over = render(page, lang=paper.first.lang, title=paper.serial, css=style(), is_tagged=False)
    return stamp(sheet, over, title=paper.serial)
