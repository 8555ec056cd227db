"""Many printed papers in one file to be printed in one go, light enough for a slow line."""

import hashlib
from collections.abc import Iterable
from io import BytesIO

import pikepdf


def join(papers: Iterable[bytes]) -> bytes:
    """Put papers one after the other, in order; the pages they share are in the file once.

    Each paper is a PDF as `overlay.stamp_each` makes it. A page that begins with the very bytes
    of a page met before takes over that page's drawing and fonts and brings only what was laid
    over it; a paper that was met before brings nothing. Nothing is laid out anew, and what each
    paper shows stays the same. The whole is for the printer: it is not tagged and has no title.
    """
    with pikepdf.new() as whole:
        met: dict[tuple[bytes, ...], pikepdf.Page] = {}
        copies: dict[bytes, range] = {}
        for paper in papers:
            digest = hashlib.sha256(paper).digest()  # which lets the paper itself go
            if digest in copies:
                for place in copies[digest]:
                    whole.pages.append(whole.pages[place])
                continue
            start = len(whole.pages)
            with pikepdf.open(BytesIO(paper)) as held:
                for page in held.pages:
                    _add(whole, page, met)
            copies[digest] = range(start, len(whole.pages))
        out = BytesIO()
        whole.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return out.getvalue()


def _add(
    whole: pikepdf.Pdf, page: pikepdf.Page, met: dict[tuple[bytes, ...], pikepdf.Page]
) -> None:
    """Add one page, beside the first page on the same sheet where there is one."""
    *sheet, over = page.Contents if isinstance(page.Contents, pikepdf.Array) else [page.Contents]
    key = tuple(part.read_raw_bytes() for part in sheet)
    first = met.get(key) if key else None
    if first is None or page.mediabox != first.mediabox:
        _strip(page)
        whole.pages.append(page)
        met.setdefault(key, whole.pages[-1])
        return
    drawings = pikepdf.Dictionary(dict(first.Resources.XObject))
    for name, drawing in page.Resources.XObject.items():
        if name.startswith("/Over"):
            drawings[name] = whole.copy_foreign(drawing)
    resources = pikepdf.Dictionary(dict(first.Resources))
    resources.XObject = drawings
    added = pikepdf.Dictionary(
        Type=pikepdf.Name.Page,
        MediaBox=first.mediabox,
        Resources=resources,
        Contents=pikepdf.Array([*first.Contents[:-1], whole.make_stream(over.read_bytes())]),
    )
    whole.pages.append(pikepdf.Page(whole.make_indirect(added)))


def _strip(page: pikepdf.Page) -> None:
    """Take out what ties a page to the tags of the file that it comes from."""
    for key in ("/StructParents", "/Tabs", "/Annots", "/B"):
        if key in page:
            del page[key]
