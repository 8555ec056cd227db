"""A stack of papers that came home: each put to its form, and what a person says of the rest."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from django.db import transaction

from relations.documents import actions as papers
from relations.documents import sorting
from relations.documents.actions import receive
from relations.documents.models import Page, Scan, Sheet, Upload
from relations.documents.sorting import Place, Why
from relations.documents.stacks import Seen, look_on, together
from relations.documents.values import PaperKind
from relations.people.models import Participant
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import actions
from .models import Form, PaperOf
from .printing import read_serial

if TYPE_CHECKING:
    from django.db.models import QuerySet

__all__ = ["go_on", "look_on", "place", "receive", "set_aside", "set_blanks_aside", "whose"]

# Why a form that is known cannot be filed by a machine, as `actions.file` refuses it.
WAITS = {
    "whose": Why.WHOSE,
    "not_expected": Why.NOT_EXPECTED,
    "already_filed": Why.ALREADY_FILED,
    "filed_under_another": Why.ANOTHER_SCAN,
}
# So many papers are filed between two presses.
PAPERS = 20
BLANK = "blank"


def go_on(*, upload: Upload, seen: Sequence[Seen], by: User, at: datetime) -> Upload:
    """Do the next part of a stack: note what was `seen`; once all was, file paper by paper.

    Each paper is a transaction of its own, so that a cut of power costs one at most, and that
    one is done again.
    """
    upload = papers.note(upload=upload, seen=seen)
    if upload.looked < upload.count:
        return upload
    for sheet, pages in papers.lying(upload)[:PAPERS]:
        _put(sheet, pages, by, at)
    return papers.end(upload=upload, at=at)


@transaction.atomic
def _put(sheet: Sheet, pages: Sequence[Page], by: User, at: datetime) -> None:
    """Put the pages of one paper where they belong."""
    if sheet.kind != PaperKind.FORM:
        is_slip = sheet.kind == PaperKind.TAKE_BACK
        papers.to_tray(pages=pages, why=Why.TAKEN_BACK if is_slip else Why.OTHER_SHEET)
        return
    if is_erased(sheet):
        papers.not_kept(pages=pages)
        return
    clear = papers.part_clashing(sheet=sheet, pages=pages)
    if not clear:
        return
    try:
        _file(sheet, clear, by, at)
    except Refused as refused:
        why = WAITS.get(refused.codes[0], Why.NOT_EXPECTED)
        papers.to_tray(pages=clear, why=why)


def is_erased(sheet: Sheet) -> bool:
    """Whether the form that stood on this sheet is gone with its person."""
    return not Form.objects.filter(sheet=sheet).exists()


@transaction.atomic
def _file(
    sheet: Sheet, pages: Sequence[Page], by: User, at: datetime, person: Participant | None = None
) -> Scan:
    scan = actions.file(serial=sheet.serial, content=together(pages), person=person, by=by, at=at)
    papers.filed(pages=pages, scan=scan, by=by, at=at)
    return scan


@transaction.atomic
def place(
    *,
    page: Page,
    serial: str,
    by: User,
    at: datetime,
    person: Participant | None = None,
    side: int | None = None,
) -> Scan:
    """File one page of the tray under the serial that somebody read from it.

    `side` is the side of the paper, if it can be told. Refused with "not_waiting" where it was
    placed meanwhile, "no_form" for a sheet of another kind, "erased_form" for a form whose person
    was erased, or as `actions.file`.
    """
    page = Page.objects.select_for_update(of=("self",)).select_related("upload").get(pk=page.pk)
    if page.place not in papers.OPEN:
        raise Refused("not_waiting")
    sheet = Sheet.objects.filter(serial=read_serial(serial)).first()
    if sheet is None:
        raise Refused("no_such_paper")
    if sheet.kind != PaperKind.FORM:
        raise Refused("no_form")
    if is_erased(sheet):
        raise Refused("erased_form")
    page.side = side or (page.side if page.sheet_id == sheet.pk else None)
    return _file(sheet, [page], by, at, person)


@transaction.atomic
def whose(*, serial: str, person: Participant, by: User, at: datetime) -> Scan:
    """Say whose form a blank became: all its pages that wait for that are filed together.

    Refused with "not_waiting" where none waits any more, or as `actions.file` refuses.
    """
    rows = waiting_for_whom().filter(sheet__serial=serial).select_for_update(of=("self",))
    pages = list(rows.order_by("side", "number"))
    if not pages or pages[0].sheet is None:
        raise Refused("not_waiting")
    return _file(pages[0].sheet, pages, by, at, person)


def waiting_for_whom() -> "QuerySet[Page]":
    """The pages of forms that were printed for nobody."""
    waiting = Page.objects.filter(place=Place.WAITING, why=Why.WHOSE)
    return waiting.select_related("sheet", "upload")


def is_sheet(page: Page) -> bool:
    """Whether a page is known to be of a sheet of ours that is no form."""
    return page.sheet is not None and page.sheet.kind != PaperKind.FORM


@transaction.atomic
def set_aside(
    *, page: Page, word: str, by: User, at: datetime, person: Participant | None = None
) -> None:
    """Put a page aside, with a word why, and say whose it is where it is a sheet of ours.

    Refused as `documents.actions.set_aside`.
    """
    papers.set_aside(pages=[page], word=word, by=by, at=at)
    if is_sheet(page) and person is not None:
        PaperOf.objects.get_or_create(sheet=page.sheet, person=person)


def set_blanks_aside(*, by: User, at: datetime) -> None:
    """Put every blank page aside; nothing is on them."""
    blanks = Page.objects.filter(place=Place.WAITING, why=Why.BLANK)
    papers.set_aside(pages=blanks, word=BLANK, by=by, at=at)


@dataclass(frozen=True)
class Paper:
    """One paper of which pages came: which sides are here by now, and which are missing."""

    sheet: Sheet
    sides: tuple[int, ...]
    missing: tuple[int, ...]


def came(upload: Upload) -> list[Paper]:
    """The papers of an upload whose pages were filed, by serial."""
    filed = Page.objects.filter(place=Place.FILED, upload=upload).values("sheet")
    return [_paper(sheet) for sheet in Sheet.objects.filter(pk__in=filed).order_by("serial")]


def _paper(sheet: Sheet) -> Paper:
    rows = Page.objects.filter(place=Place.FILED, sheet=sheet, side__isnull=False)
    sides = sorted({side for side in rows.values_list("side", flat=True) if side is not None})
    return Paper(sheet, tuple(sides), missing(sheet, sides))


def missing(sheet: Sheet, sides: Iterable[int] | None = None) -> tuple[int, ...]:
    """The sides of a paper that have not come home; none where a scan was filed by hand.

    Nobody has said which sides such a scan holds.
    """
    if sheet.scans.filter(page_rows=None).exists():
        return ()
    known = _paper(sheet).sides if sides is None else sides
    return sorting.missing(sheet.pages, known) if known else ()
