"""A sheet laid out once, and what differs from copy to copy laid over it."""

from io import BytesIO

import pikepdf


class UnlikeSheetsError(ValueError):
    """The two files do not have the same number of pages of the same size."""


def stamp(sheet: bytes, over: bytes, *, title: str) -> bytes:
    """Lay each page of `over` on the page of `sheet` with its number; `title` names the result.

    `sheet` is tagged and stays so. `over` is not tagged: a number or a square code at the edge
    of a page is marked as an artifact, as PDF/UA wants of heads and feet (ISO 14289-1 7.1, from
    memory). The same two files give the same bytes. Raises UnlikeSheetsError.
    """
    with pikepdf.open(BytesIO(sheet)) as below, pikepdf.open(BytesIO(over)) as above:
        if [page.mediabox for page in below.pages] != [page.mediabox for page in above.pages]:
            raise UnlikeSheetsError
        for page, upper in zip(below.pages, above.pages, strict=True):
            drawing = below.copy_foreign(upper.as_form_xobject())
            # Pages may share one table of resources, so each drawing has a name of its own.
            name = pikepdf.Name(f"/Over{page.index}")
            page.add_resource(drawing, pikepdf.Name.XObject, name)
            page.contents_add(b"q\n", prepend=True)
            page.contents_add(f"\nQ\n/Artifact BMC\nq\n{name} Do\nQ\nEMC\n".encode())
        with below.open_metadata(set_pikepdf_as_editor=False) as metadata:
            metadata["dc:title"] = title
        below.docinfo["/Title"] = title
        out = BytesIO()
        below.save(out, deterministic_id=True)
    return out.getvalue()
