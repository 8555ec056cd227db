"""The boxes of a form as they stand on its scans: read by their places, and cut out to be seen."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING, NamedTuple

from PIL import Image

from relations.documents import layouts, locate, marks, qr, split
from relations.documents.filing import FilingError
from relations.documents.marks import Mark
from relations.documents.models import Layout, Sheet
from relations.documents.values import LETTERS, PaperKind
from relations.privacy.keys import keyring

from . import proposed
from .proposed import Proposed

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Grey = NDArray[np.uint8]

Box = tuple[float, float, float, float]

# More pages than a form has are put to it by mistake: no more of them are looked at.
MOST_PAGES = 12
# Pixels a millimetre of what is shown, and how much paper round a box is shown with it.
SHOWN_AT, AROUND_MM = 5, 1.6
GAP, ACROSS = 4, 8
# Pen on paper is legible at this quality, and all boxes of a form weigh less than 20 kB.
QUALITY = 40
WHITE = 255


class Page(NamedTuple):
    """A page that was found on a scan: its picture, how it lies, and where its boxes stand."""

    grey: "Grey"
    matrix: "NDArray[np.float64]"
    places: Mapping[str, Box]


class Tile(NamedTuple):
    """One box of the paper in the picture of all of them, in pixels.

    `box` is what is read from it ("uses.web"), `part` the answer that it stands for ("yes",
    "full"), or "" where it is the only one; `code` is its name on the paper, on `page`.
    """

    box: str
    part: str
    code: str
    page: int
    left: int
    top: int
    width: int
    height: int


@dataclass(frozen=True)
class Beside:
    """What was found on the scans of one form: pages by their number, counted from 1.

    `layout` is None for a paper that was printed before places were kept.
    """

    layout: Layout | None
    pages: Mapping[int, Page]

    def proposed(self) -> dict[str, Proposed]:
        """What each box of a first reading starts with; none of a page that was not found."""
        return proposed.propose(self.marks())

    def marks(self) -> dict[str, Mark]:
        """What stands in every tick box of the pages that were found."""
        return dict(self._marks())

    def _marks(self) -> Iterator[tuple[str, Mark]]:
        for page in self.pages.values():
            for code, box in page.places.items():
                if not code.startswith((layouts.SQUARE, layouts.CODE)):
                    wide = _wider(box, marks.ROUND_MM)
                    part = locate.cut(page.grey, page.matrix, wide, scale=marks.SCALE)
                    yield code, marks.read(part, *box[2:])

    def picture(self) -> bytes:
        """All boxes of the form in one small grey picture (WebP), each where `tiles` says."""
        shown = tiles(self.layout)
        canvas = Image.new("L", size(shown), WHITE)
        for tile in shown:
            if (page := self.pages.get(tile.page)) is not None:
                wide = _wider(page.places[tile.code], AROUND_MM)
                part = locate.cut(page.grey, page.matrix, wide, scale=SHOWN_AT)
                canvas.paste(Image.fromarray(part), (tile.left, tile.top))
        out = BytesIO()
        canvas.save(out, "WEBP", quality=QUALITY, method=4)
        return out.getvalue()


def size(shown: Iterable[Tile]) -> tuple[int, int]:
    """Width and height of the picture that holds these tiles, in pixels."""
    ends = [(tile.left + tile.width, tile.top + tile.height) for tile in shown] or [(1, 1)]
    return max(right for right, _ in ends), max(bottom for _, bottom in ends)


def tiles(layout: Layout | None) -> list[Tile]:
    """Where each box stands in the picture of all of them, whichever pages were found."""
    if layout is None:
        return []
    found = []
    for page in range(1, len(layout.boxes) + 1):
        places = layouts.places(layout, page)
        for box, part, code in _parts():
            if code in places:
                width, height = (round(s * SHOWN_AT) for s in _wider(places[code], AROUND_MM)[2:])
                found.append(Tile(box, part, code, page, 0, 0, width, height))
    side = max((max(tile.width, tile.height) for tile in found), default=0) + GAP
    return [
        tile._replace(left=place % ACROSS * side, top=place // ACROSS * side)
        for place, tile in enumerate(found)
    ]


def _parts() -> Iterator[tuple[str, str, str]]:
    """Every box of a reading, each of its answers, and the box on paper for that."""
    for box in proposed.ALL:
        for part, code in zip(proposed.parts(box), proposed.boxes(box), strict=True):
            yield box, part, code


def _wider(box: Box, by: float) -> Box:
    left, top, width, height = box
    return left - by, top - by, width + 2 * by, height + 2 * by


def look(sheet: Sheet, contents: Iterable[tuple[bytes, int]]) -> Beside:
    """Find the pages of a printed form on its scans: (clear bytes, pages) of each, newest last.

    A page that lies on two scans is read from the newer one. A page of another paper, or of
    another version of this one, is passed over, as is one that cannot be found for certain.
    """
    if sheet.layout is None:
        return Beside(None, {})
    pages: dict[int, Page] = {}
    for content, page in _newest_first(contents):
        for number, found in _found(sheet, sheet.layout, content, page):
            pages.setdefault(number, found)
        if len(pages) == len(sheet.layout.boxes):
            break
    return Beside(sheet.layout, pages)


def _newest_first(contents: Iterable[tuple[bytes, int]]) -> list[tuple[bytes, int]]:
    found = [
        (content, page) for content, pages in reversed([*contents]) for page in range(1, pages + 1)
    ]
    return found[:MOST_PAGES]


def _found(sheet: Sheet, layout: Layout, content: bytes, page: int) -> Iterator[tuple[int, Page]]:
    """The page of this sheet that one page of a scan shows, if it does and where it lies."""
    try:
        seen = split.look(content, page)
    except (FilingError, IndexError):
        return
    for number in range(1, len(layout.boxes) + 1):
        codes = [code.corners for code in seen.codes if _is_of(code.text, sheet, number)]
        places = layouts.places(layout, number)
        lies = locate.locate(seen.grey, codes, places)
        if lies is not None:
            yield number, Page(seen.grey, lies.matrix, places)


def _is_of(text: str, sheet: Sheet, page: int) -> bool:
    """Whether a code was printed by this site on this page of this very sheet and version."""
    wanted = qr.PageCode(LETTERS[PaperKind.FORM], sheet.serial, page, sheet.version)
    for key in keyring.mark_keys():
        try:
            return qr.read_payload(text, key=key) == wanted
        except qr.ForeignCodeError:
            continue
    return False
