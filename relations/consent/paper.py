"""The two-language form on paper: one sheet, two sides, the sitter's language first."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property, lru_cache

from django.template.loader import render_to_string

from relations.documents import qr
from relations.documents.columns import Column, Line, clauses, labelled, line
from relations.documents.overlay import stamp_each
from relations.documents.render import ARCHIVE, Anchors, Attached, LaidOut, lay_out, render
from relations.pictures.values import PlaceWord

from . import kinds
from .values import FormKind, NameForm, Use

SIDES = 2
# Width and height in millimetres: ISO 216 A4; North American Letter, 8.5 by 11 inches.
PAGES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
# How tall a place to sign is, in millimetres: Letter is shorter.
SIGN = {"A4": 20.0, "Letter": 17.5}
# Text is set as large as two sides allow: points, and the height of a line in its own size.
LARGEST, SMALLEST = (8.5, 1.28), (7.2, 1.16)
TYPE = (LARGEST, (8.3, 1.24), (8.0, 1.22), (7.7, 1.2), (7.4, 1.18), SMALLEST)
# The points of the form in their order; a wording with another one could not be printed whole.
POINTS = (
    *("paper", "who", "plain", "keep", "uses", "places", "days", "name", "care", "silence"),
    *("wish", "machines", "stop", "giving", "day"),
)
# How many forms' serials are laid out together: more take more memory and no less time.
AT_ONCE = 10
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


@dataclass(frozen=True)
class FormPaper:
    """All that one blank form says; it never holds a name.

    `serial` is "70042-74", `version` up to four capital letters or digits, `stop_number` as it
    is to be rung from here, or "" for a line to write on. `payload(page)` gives the text of the
    square code of a page, counted from 1. `size` is a key of `PAGES`.
    """

    serial: str
    version: str
    first: Column
    second: Column
    stop_number: str
    draft: bool
    payload: Callable[[int], str]
    kind: FormKind = FormKind.ADULT
    size: str = "A4"

    @property
    def columns(self) -> tuple[Column, Column]:
        """Give both columns, the sitter's language first."""
        return self.first, self.second

    @cached_property
    def sheet(self) -> tuple[LaidOut, str]:
        """The form without serial, and its style sheet: written once, asked for more than once."""
        return _laid_out(html(replace(self, serial="")), self.first.lang, self.size)


def _uses(paper: FormPaper) -> list[Line]:
    """Give the eleven uses, each with its name and its one plain line."""
    return [
        line(
            paper.columns,
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
            "words": line(
                paper.columns,
                str(page),
                [(c.page_words(page, SIDES), "") for c in paper.columns],
            ),
            "code": qr.picture(paper.payload(page)) if paper.serial else "",
        }
        for page in range(1, SIDES + 1)
    ]


def _frame(paper: FormPaper) -> dict[str, object]:
    """Give what stands around the text: heads, feet and the strip."""
    labels = {key: labelled(paper.columns, "", (key,))[0] for key in paper.first.labels}
    return {"paper": paper, "labels": labels, "pages": _pages(paper)}


def html(paper: FormPaper) -> str:
    """Write the form as one HTML document; every word of a wording is escaped.

    With serial "" the places of the serial and of the codes stay empty. Raises
    ClausesDifferError when the two wordings do not belong together.
    """
    context = _frame(paper) | {
        "clauses": clauses(paper.columns, POINTS),
        "ready": labelled(paper.columns, "ready_", READY),
        "uses": _uses(paper),
        "names": labelled(paper.columns, "name_", tuple(NameForm)),
        "places": labelled(paper.columns, "place_", tuple(PlaceWord)),
        "care": labelled(paper.columns, "", CARE),
        "silence": labelled(paper.columns, "", SILENCE),
        "wishes": labelled(paper.columns, "", WISHES),
        "giving": kinds.shown(paper.columns, paper.kind),
    }
    return render_to_string("consent/paper/form.html", context)


@cache
def style(size: str = "A4", type_: tuple[float, float] = LARGEST) -> str:
    """Give the style sheet of the form for a size of paper and of type (`TYPE`)."""
    width, height = PAGES[size]
    points, line_height = type_
    context = {"side": qr.SIDE_MM, "points": points, "line_height": line_height}
    context |= {"width": width, "height": height, "sign": SIGN[size]}
    return render_to_string("consent/paper/form.css", context)


@lru_cache(maxsize=32)
def _laid_out(page: str, lang: str, size: str) -> tuple[LaidOut, str]:
    """The sheet in the largest type that fills two sides, and the style sheet that did it.

    Two wordings make one, however many forms of them are printed.
    """
    for type_ in TYPE:
        css = style(size, type_)
        made = lay_out(page, lang=lang, title="", css=css, most=SIDES)
        if made.pages == SIDES:
            return made, css
    raise LengthError(made.pages)


def anchors(paper: FormPaper) -> Anchors:
    """Say where tick boxes, corner squares and codes stand, by id and page; faults as `pdf`."""
    return paper.sheet[0].anchors


def pdf(paper: FormPaper) -> bytes:
    """Make the form's PDF: two sides, tagged, its serial as title and no other metadata.

    The bytes are the same each time on one machine. The first form of two wordings takes some
    forty times as long as a page of one paragraph, each further one some four times. Raises
    LengthError, ClausesDifferError, or what `relations.documents.render.render` raises.
    """
    return next(iter(pdfs([paper])))


def pdfs(papers: Sequence[FormPaper]) -> Iterator[bytes]:
    """Make one PDF for each of several forms that differ by their serial alone, as `pdf` does.

    Serials and codes of some forms at a time are laid out as one document, by the places that the
    sheet has for them, and each form is the sheet under its own two pages of it. They come as
    they are made: only some at a time are in memory.
    """
    sheet, _ = papers[0].sheet
    for start in range(0, len(papers), AT_ONCE):
        some = papers[start : start + AT_ONCE]
        over = _over(some, sheet.anchors)
        yield from stamp_each(sheet.content, over, titles=[one.serial for one in some])


def _over(papers: Sequence[FormPaper], anchors: Anchors) -> bytes:
    """Lay out what differs from form to form, each thing on the place of the same id."""
    width, height = PAGES[papers[0].size]
    found = [(name, box) for page in anchors for name, box in page.items()]
    codes = [(name, (*box[:2], qr.SIDE_MM)) for name, box in found if name.startswith("code-")]
    serials = [(name, (*box[:2], 0, box[3])) for name, box in found if name.startswith("serial-")]
    context = {"width": width, "height": height, "places": [*codes, *serials]}
    sides = [
        {
            "serial": paper.serial,
            "code": qr.picture(paper.payload(page)) if paper.serial else "",
            "codes": [name for name, _ in codes if name.endswith(f"-{page}")],
            "serials": [name for name, _ in serials if name.endswith(f"-{page}")],
        }
        for paper in papers
        for page in range(1, SIDES + 1)
    ]
    lang = papers[0].first.lang
    page = render_to_string("consent/paper/serial.html", {"lang": lang, "sides": sides})
    css = render_to_string("consent/paper/serial.css", context)
    return render(page, lang=lang, title="", css=css, is_tagged=False)


def archive_pdf(paper: FormPaper, record: Attached) -> bytes:
    """Make the same two sides to be kept for decades, as PDF/A-3 with the record inside.

    Made as PDF/A-3b; nothing here can check that it conforms. It is laid out anew each time, since
    each has another record. Raises as `pdf`.
    """
    sheet, css = paper.sheet
    made = lay_out(
        html(replace(paper, serial="")),
        lang=paper.first.lang,
        title=paper.serial,
        css=css,
        variant=ARCHIVE,
        attached=[record],
    )
    if made.pages != SIDES:
        raise LengthError(made.pages)
    over = _over([paper], sheet.anchors)
    return stamp_each(made.content, over, titles=[paper.serial])[0]
