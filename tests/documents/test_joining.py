"""Many papers in one file: every page as it was, the shared sheet once."""

from io import BytesIO

import pikepdf
import pypdfium2
from PIL import ImageChops

from relations.documents.joining import join
from relations.documents.overlay import stamp_each
from relations.documents.render import render

SHEET = "<p style='page-break-after: always'>One sheet, <b>two</b> sides</p><p>its back</p>"
OVER = "".join(f"<p class=over>{number}</p>" for number in range(1, 9))
CSS = """
p { font-family: Mukta; margin: 0 } .over { padding-left: 5cm }
.over + .over { break-before: page }
"""


def papers() -> list[bytes]:
    sheet = render(SHEET, lang="en", title="", css=CSS)
    over = render(OVER, lang="en", title="", css=CSS, is_tagged=False)
    return stamp_each(sheet, over, titles=["a", "b", "c", "d"])


def pictures(content: bytes):
    with pypdfium2.PdfDocument(content) as pdf:
        return [page.render(scale=1).to_pil().convert("L") for page in pdf]


def test_every_page_looks_as_it_did_in_its_own_file():
    made = papers()
    alone = [picture for paper in made for picture in pictures(paper)]
    together = pictures(join(made))
    assert len(alone) == len(together) == 8
    for one, other in zip(alone, together, strict=True):
        assert ImageChops.difference(one, other).getbbox() is None
    assert ImageChops.difference(together[0], together[2]).getbbox() is not None


def test_shared_sheet_is_in_the_file_once():
    made = papers()
    assert len(join(made)) < len(made[0]) + 3 * len(made[0]) / 3
    with pikepdf.open(BytesIO(join(made))) as pdf:
        first, third = (pdf.pages[number] for number in (0, 2))
        assert first.Contents[1].objgen == third.Contents[1].objgen
        assert "/StructTreeRoot" not in pdf.Root and "/StructParents" not in first


def test_papers_of_two_sheets_and_plain_pages_stand_beside_each_other():
    other = render("<p>Another sheet</p>", lang="en", title="x", css=CSS)
    made = papers()
    with pypdfium2.PdfDocument(join([made[0], other, made[1]])) as pdf:
        said = [page.get_textpage().get_text_bounded() for page in pdf]
    assert len(said) == 5
    assert "Another sheet" in said[2] and "its back" in said[4]


def test_same_papers_make_the_same_bytes():
    made = papers()
    assert join(made) == join(made)


def test_paper_that_lies_there_again_is_shown_again_and_brings_nothing():
    plain = render("<p>Handed out <b>often</b></p>", lang="en", title="x", css=CSS)
    stamped = papers()[0]
    once, often = join([plain, stamped]), join([plain, stamped] * 10)
    shown = pictures(often)
    assert len(shown) == 10 * 3
    for place, one in enumerate(pictures(once)):
        assert ImageChops.difference(one, shown[place + 27]).getbbox() is None
    assert len(often) < len(once) * 1.3
