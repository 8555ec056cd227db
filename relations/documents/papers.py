"""A paper in two languages on the style that all but the form share: head, foot, square codes."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache

from django.conf import settings
from django.template.loader import render_to_string

from . import qr
from .columns import Column, Line, clauses, labelled, line
from .render import LaidOut, lay_out
from .values import PaperKind

# More would not fit the two digits of a square code, and nobody would read it.
MOST_PAGES = 20
# How many pages the last paper of a template took, by the size of paper.
_took: dict[tuple[str, str], int] = {}


class TooLongError(RuntimeError):
    """A paper that would take more than `MOST_PAGES` pages; it is not made."""


@dataclass(frozen=True)
class Paper:
    """All that one paper says, of any kind but the form.

    `template` extends documents/paper/sheet.html. The labels of both columns hold what the
    frame asks for ("title", "wording", "page_of", "draft", "draft_note") and what `template`
    does. `foot` is a line under every page, its `more` a number or a day set apart from the words.
    `payload(page)` gives the text of the square code of a page, counted from 1. `serial` is "" on
    a proof: it then bears no code. `values` are plain values that the template names.
    """

    kind: PaperKind
    template: str
    serial: str
    version: str
    first: Column
    second: Column
    payload: Callable[[int], str]
    values: Mapping[str, object] = field(default_factory=dict)
    foot: Line | None = None
    draft: bool = False

    @property
    def columns(self) -> tuple[Column, Column]:
        """Give both columns, the sitter's language first."""
        return self.first, self.second


def _pages(paper: Paper, count: int) -> list[dict[str, object]]:
    """Give what head and foot of each page need: number, words and the square code."""
    return [
        {
            "number": page,
            "words": line(
                paper.columns,
                str(page),
                [(c.page_words(page, count), c.labels["wording"]) for c in paper.columns],
            ),
            "code": qr.picture(paper.payload(page)) if paper.serial else "",
        }
        for page in range(1, count + 1)
    ]


def html(paper: Paper, pages: int) -> str:
    """Write a paper of so many pages as one HTML document; every word of it is escaped.

    Raises ClausesDifferError when the two columns do not belong together.
    """
    keys = tuple(clause.key for clause in paper.first.clauses)
    paired = clauses(paper.columns, keys)
    context = {
        **paper.values,
        "paper": paper,
        "pages": _pages(paper, pages),
        "clauses": list(paired.values()),
        "clause": paired,
        "labels": {key: labelled(paper.columns, "", (key,))[0] for key in paper.first.labels},
        "foot": paper.foot or line(paper.columns, "foot", [("", "")] * 2),
    }
    return render_to_string(paper.template, context)


@cache
def style(size: str) -> str:
    """Give the style sheet of the papers, for paper of one size ("A4" or "Letter")."""
    return render_to_string("documents/paper/sheet.css", {"side": qr.SIDE_MM, "size": size})


def lay(paper: Paper) -> LaidOut:
    """Make the PDF of a paper on the size of `settings.RELATIONS_PAPER_SIZE`, tagged.

    Its title is the serial and nothing else is said of it. The bytes are the same each time on one
    machine. How many pages it takes is known only once it is laid out, and each page says it: it
    is tried with as many as the last one of its template took, and laid out again where it takes
    more or fewer. Raises ClausesDifferError, TooLongError, or what `lay_out` raises.
    """
    sort = paper.template, settings.RELATIONS_PAPER_SIZE
    tried = _took.get(sort, 1)
    made = _lay(paper, tried)
    if made.pages > MOST_PAGES:
        raise TooLongError
    # What head and foot say of the number of pages stands in the margins and moves no line.
    if made.pages != tried:
        made = _lay(paper, made.pages)
    _took[sort] = made.pages
    return made


def _lay(paper: Paper, pages: int) -> LaidOut:
    """Lay it out as one of so many pages; one that takes more is counted and not written."""
    css = style(settings.RELATIONS_PAPER_SIZE)
    page = html(paper, pages)
    return lay_out(page, lang=paper.first.lang, title=paper.serial, css=css, most=pages)
