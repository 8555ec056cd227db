"""A stack as it is read: opened whole, looked at part by part, pages of one paper put together."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO

import pikepdf

from relations.privacy.files import scans
from relations.privacy.keys import keyring

from . import photographs, sorting
from .filing import FilingError
from .models import Page, Upload
from .sorting import Why
from .split import Stack

# So many pages are looked at between two presses: about a second.
PART = 20


@dataclass(frozen=True)
class Seen:
    """One page as it was looked at, before anything of it is written."""

    number: int
    judged: sorting.Judged
    turn: int
    digest: str
    alone: bytes  # the page as a PDF of its own, upright; nothing where its paper is known


def joined(contents: Sequence[bytes]) -> bytes:
    """One PDF of all pages, in the order sent; one that is alone stays as it is."""
    parts = [photographs.as_pdf(content) for content in contents]
    if len(parts) == 1:
        return parts[0]
    whole = pikepdf.new()
    for part in parts:
        with pikepdf.open(BytesIO(part)) as document:
            whole.pages.extend(document.pages)
    out = BytesIO()
    whole.save(out, deterministic_id=True)
    return out.getvalue()


def look_on(upload: Upload, most: int = PART) -> list[Seen]:
    """Look at the next pages of an upload, at most so many; nothing is written yet.

    Outside any transaction: it takes 50 ms a page, and nobody need wait for it.
    """
    if upload.looked >= upload.count:
        return []
    keys = keyring.mark_keys()
    with opened(upload) as stack:
        last = min(upload.looked + most, upload.count)
        return [_see(stack, number, keys) for number in range(upload.looked + 1, last + 1)]


def opened(upload: Upload) -> Stack:
    """The clear stack; FileNotFoundError or SealBroken where it is damaged."""
    with scans().open(upload.file) as sealed:
        return Stack(sealed.read())


def _see(stack: Stack, number: int, keys: Sequence[bytes]) -> Seen:
    try:
        look = stack.look(number)
    except FilingError:
        # One page that does not open keeps none of the others from its place.
        judged, turn = sorting.Judged(None, Why.NO_CODE), 0
    else:
        texts, turn = [code.text for code in look.codes], look.turn
        judged = sorting.judge(texts, is_blank=look.is_blank, is_torn=look.is_torn, keys=keys)
    alone = b"" if judged.code else stack.take([(number, turn)])
    return Seen(number, judged, turn, stack.digest(number), alone)


def together(pages: Sequence[Page]) -> bytes:
    """The pages of one paper as one PDF, in the order given, upright and not compressed anew."""
    if all(page.file for page in pages):
        return _of_files(pages)
    with opened(pages[0].upload) as stack:
        return stack.take([(page.number, page.turn) for page in pages])


def _of_files(pages: Sequence[Page]) -> bytes:
    alone = []
    for page in pages:
        with scans().open(page.file) as sealed:
            alone.append(sealed.read())
    return joined(alone)


def without(upload: Upload, pages: Sequence[Page]) -> bytes:
    """The stack with nothing on these pages any more; every page keeps its number."""
    with opened(upload) as stack:
        return stack.without([page.number for page in pages])
