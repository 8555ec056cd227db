"""A stack of pages taken in, looked at part by part, and put where each belongs, or in the tray."""

from collections.abc import Iterable, Sequence
from datetime import datetime

from django.db import transaction

from relations.privacy import residue
from relations.privacy.crypt import SealBroken
from relations.privacy.files import scans
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import filing, sorting, stacks
from .filing import FilingError
from .models import Page, Scan, Sheet, Upload
from .sorting import Place, Why
from .stacks import Seen

MOST_PAGES = filing.MOST_PAGES
# Pages that a person may still put somewhere.
OPEN = (Place.WAITING, Place.ASIDE)


@transaction.atomic
def receive(
    *, files: Sequence[bytes | None], by: User, at: datetime, largest: int = filing.LARGEST_BYTES
) -> Upload:
    """Seal what was sent at once as one stack; it is on the disk when this returns.

    A file that is no scan is left out, its number and code noted; the others are taken. None
    stands for one that was too large and let go on its way in. Refused
    with the codes of `filing.inspect` where none can be taken, "too_many_pages" beyond 1,000
    together. `largest` bytes a file.
    """
    taken: list[filing.Inspected] = []
    left_out: list[tuple[int, str]] = []
    for number, content in enumerate(files, start=1):
        try:
            if content is None:
                raise FilingError("too_large")
            taken.append(filing.inspect(content, largest=largest))
        except FilingError as error:
            left_out.append((number, error.code))
    if not taken:
        raise Refused(*dict.fromkeys(code for _, code in left_out))
    count = sum(found.pages for found in taken)
    if count > MOST_PAGES:
        raise Refused("too_many_pages")
    return Upload.objects.create(
        file=scans().save(stacks.joined([found.clean for found in taken])),
        count=count,
        sent_at=at,
        sent_by=by,
        left_out=left_out,
    )


@transaction.atomic
def note(*, upload: Upload, seen: Sequence[Seen]) -> Upload:
    """Write down what was seen of the next pages; seen by two presses at once, it is noted once."""
    upload = Upload.objects.select_for_update().get(pk=upload.pk)
    for page in seen:
        if page.number != upload.looked + 1:
            continue
        _note(upload, page)
        upload.looked += 1
    upload.save(update_fields=["looked"])
    return upload


def _note(upload: Upload, seen: Seen) -> None:
    page = Page(upload=upload, number=seen.number, turn=seen.turn, digest=seen.digest)
    held = Page.objects.filter(digest=seen.digest).exclude(place__in=[Place.NOT_KEPT, Place.TWICE])
    known = held.first()
    code = seen.judged.code
    sheet = Sheet.objects.filter(serial=code.serial).first() if code else None
    if code:
        page.sheet, page.side = sheet, code.page
    if known is not None:
        page.place, page.sheet = Place.TWICE, known.sheet
        page.save()
        return
    why = seen.judged.why
    if code and sheet is None:
        why = Why.UNKNOWN
    elif code and sheet and sorting.is_beside(code, sheet.kind):
        why = Why.BESIDE
    if why is None:
        page.place = Place.FOUND
        page.save()
    else:
        _wait(page, why, seen.alone or stacks.together([page]))


def _wait(page: Page, why: Why, alone: bytes) -> None:
    """Put a page into the tray, sealed on its own."""
    page.place, page.why = Place.WAITING, why
    page.file = page.file or scans().save(alone)
    page.save()


def lying(upload: Upload) -> list[tuple[Sheet, list[Page]]]:
    """The papers of which pages of this upload are to be filed, each with its pages by side."""
    papers: dict[str, tuple[Sheet, list[Page]]] = {}
    rows = upload.pages.filter(place=Place.FOUND).select_related("sheet")
    for page in rows.order_by("sheet__serial", "side", "number"):
        assert page.sheet is not None  # noqa: S101 # found means that its paper is known
        papers.setdefault(page.sheet.serial, (page.sheet, []))[1].append(page)
    return list(papers.values())


@transaction.atomic
def to_tray(*, pages: Iterable[Page], why: Why) -> None:
    """Let pages wait for a person, each sealed on its own."""
    for page in pages:
        _wait(page, why, b"" if page.file else stacks.together([page]))


@transaction.atomic
def part_clashing(*, sheet: Sheet, pages: Sequence[Page]) -> list[Page]:
    """The pages of one paper that may be filed, by side; those that ask a person go to the tray.

    Where a scan was filed under a typed serial nobody knows which sides it holds, so that every
    further page asks.
    """
    filed = set(_sides_filed(sheet))
    if sheet.scans.filter(page_rows=None).exists():
        filed |= {page.side or 0 for page in pages}
    found = sorting.clashes({str(page.pk): page.side or 0 for page in pages}, filed)
    for why in dict.fromkeys(found.values()):
        to_tray(pages=[page for page in pages if found.get(str(page.pk)) == why], why=why)
    return [page for page in pages if str(page.pk) not in found]


def _sides_filed(sheet: Sheet) -> Iterable[int]:
    rows = Page.objects.filter(sheet=sheet, place=Place.FILED, side__isnull=False)
    return (side for side in rows.values_list("side", flat=True) if side is not None)


@transaction.atomic
def filed(*, pages: Iterable[Page], scan: Scan, by: User, at: datetime) -> None:
    """Note that these pages lie in a scan now; what was kept of each alone is let go of."""
    for page in pages:
        _let_go(page.file)
        page.place, page.why, page.file, page.word = Place.FILED, "", "", ""
        page.scan, page.sheet = scan, scan.sheet
        page.placed_at, page.placed_by = at, by
        page.save()


@transaction.atomic
def not_kept(*, pages: Iterable[Page]) -> None:
    """Keep nothing of pages whose paper was erased."""
    for page in pages:
        _let_go(page.file)
        page.place, page.why, page.file = Place.NOT_KEPT, "", ""
        page.save()


@transaction.atomic
def set_aside(*, pages: Iterable[Page], word: str, by: User, at: datetime) -> None:
    """Put pages aside as not ours, with a word why; they stay sealed and may be placed later.

    Refused with "not_waiting" for a page that was placed meanwhile.
    """
    for page in pages:
        if page.place not in OPEN:
            raise Refused("not_waiting")
        page.place, page.word, page.placed_at, page.placed_by = Place.ASIDE, word, at, by
        page.save()


@transaction.atomic
def end(*, upload: Upload, at: datetime) -> Upload:
    """Let go of the stack once every page lies elsewhere; before that nothing happens."""
    upload = Upload.objects.select_for_update().get(pk=upload.pk)
    is_done = upload.looked == upload.count
    if upload.file and is_done and not upload.pages.filter(place=Place.FOUND).exists():
        _let_go(upload.file)
        upload.file, upload.ended_at = "", at
        upload.save(update_fields=["file", "ended_at"])
    return upload


def _let_go(name: str) -> None:
    """Delete a sealed file once the transaction stands, also where a cut of power comes between."""
    if name:
        residue.let_go(residue.SCANS, [name])
        transaction.on_commit(residue.remove_files, robust=True)


@transaction.atomic
def take_out(*, upload: Upload, sheets: Iterable[Sheet]) -> None:
    """Take the pages of these papers out of a stack that is not placed yet; numbers stay.

    Pages that nobody has looked at are looked at first: they may be among them. Nothing happens
    where the stack does not open: nobody can read what is in it, and `check_home` names it.
    """
    try:
        while upload.looked < upload.count:
            upload = note(upload=upload, seen=stacks.look_on(upload))
        pages = list(upload.pages.filter(sheet__in=[sheet.pk for sheet in sheets]))
        left = stacks.without(upload, pages)
    except (FileNotFoundError, SealBroken):
        return
    if not pages:
        return
    _let_go(upload.file)
    upload.file = scans().save(left)
    upload.save(update_fields=["file"])
    not_kept(pages=pages)
