"""A sheet laid out once, and what differs from copy to copy laid over it."""

import re
from collections.abc import Sequence
from io import BytesIO
from typing import Any

import pikepdf

# What a page draws by name: pictures, and groups of drawings.
_DRAWN = re.compile(rb"/([^\s/<>\[\]()]+)\s+Do\b")


class UnlikeSheetsError(ValueError):
    """The two files do not have pages of the same size, so many of one for each of the other."""


def stamp(sheet: bytes, over: bytes, *, title: str) -> bytes:
    """Lay each page of `over` on the page of `sheet` with its number; else as `stamp_each`."""
    return stamp_each(sheet, over, titles=[title])[0]


def stamp_each(sheet: bytes, over: bytes, *, titles: Sequence[str]) -> list[bytes]:
    """Lay the pages of `over` on copies of `sheet`, one copy for each of `titles`, in order.

    `sheet` is tagged and stays so. `over` is not tagged: a number or a square code at the edge
    of a page is marked as an artifact, as PDF/UA wants of heads and feet (ISO 14289-1 7.1, from
    memory). Each copy holds of `over` only what its own pages draw. The same two files give the
    same bytes. Raises UnlikeSheetsError.
    """
    with pikepdf.open(BytesIO(sheet)) as below, pikepdf.open(BytesIO(over)) as above:
        boxes, sides = [page.mediabox for page in below.pages], len(below.pages)
        if [page.mediabox for page in above.pages] != boxes * len(titles):
            raise UnlikeSheetsError
        bare = [_bare(below, page) for page in below.pages]
        made = []
        for number, title in enumerate(titles):
            for page, (contents, resources) in zip(below.pages, bare, strict=True):
                page.obj.Contents = pikepdf.Array(contents)
                page.obj.Resources = pikepdf.Dictionary(dict(resources))
                _lay(below, page, _drawing(above.pages[number * sides + page.index]))
            made.append(_saved(below, title))
        return made


def _bare(below: pikepdf.Pdf, page: pikepdf.Page) -> tuple[list[Any], dict[str, Any]]:
    """What a page of the sheet draws, closed in itself, and with what: the same for every copy."""
    page.contents_add(b"q\n", prepend=True)
    page.contents_add(b"\nQ\n")
    return list(page.Contents), dict(page.Resources)


def _drawing(page: pikepdf.Page) -> pikepdf.Object:
    """A page as one drawing. The pages of a document share one table of all its pictures."""
    drawing = page.as_form_xobject()
    resources = pikepdf.Dictionary(dict(drawing.Resources))
    held: Any = resources.get("/XObject", {})
    drawn = {f"/{name.decode()}" for name in _DRAWN.findall(drawing.read_bytes())}
    resources["/XObject"] = pikepdf.Dictionary({name: held[name] for name in sorted(drawn)})
    drawing.Resources = resources
    return drawing


def _lay(below: pikepdf.Pdf, page: pikepdf.Page, drawn: pikepdf.Object) -> None:
    # Pages may share one table of resources, so each drawing has a name of its own.
    name, held = f"/Over{page.index}", page.Resources.get("/XObject", pikepdf.Dictionary())
    page.Resources.XObject = pikepdf.Dictionary({**held, name: below.copy_foreign(drawn)})
    page.contents_add(f"/Artifact BMC\nq\n{name} Do\nQ\nEMC\n".encode())


def _saved(below: pikepdf.Pdf, title: str) -> bytes:
    """The sheet as it is now; what an earlier copy drew is no part of it any more."""
    with below.open_metadata(set_pikepdf_as_editor=False) as metadata:
        metadata["dc:title"] = title
    below.docinfo["/Title"] = title
    out = BytesIO()
    below.save(out, deterministic_id=True)
    return out.getvalue()
