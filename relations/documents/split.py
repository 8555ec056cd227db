"""An upload taken apart: each page kept as it came, and looked at as a grey picture."""

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from types import TracebackType
from typing import TYPE_CHECKING, Any

import pikepdf
import pypdfium2

from . import codes, filing, photographs, qr
from .codes import Code, Wanted

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Grey = NDArray[np.uint8]

# A code's module is five pixels wide then; more is slower and reads no more (measured).
LOOK_DPI = 200
# No picture of a page is larger, however large the page says it is.
LARGEST_LOOK = 24_000_000
# Of a page without anything on it: the share of dark dots away from its edges.
BLANK_SHARE = 0.0004
EDGE = 0.04
# What a page shows lies no deeper in its file.
DEEPEST = 12
# Of a stream that is no picture, as it is packed; unpacked it is a thousand times that at most.
LONG = 16 * 1024
# What says how a page hangs in its file and how its parts are packed, and not what it shows.
PACKING = {"/Parent", "/Length", "/Filter", "/DecodeParms", "/Rotate"}


@dataclass(frozen=True)
class Look:
    """One page as seen, turned upright by quarters; a slight slant stays.

    `grey` is (height, width), 0 black to 255 white, at `dpi` pixels an inch of the page as kept.
    `codes` are all square codes with their corners in pixels of `grey`; `turn` is by how many
    degrees clockwise the page as kept was turned for it; `is_torn` says that something like a code
    is there and none could be read, `is_blank` that hardly a dark dot lies away from the edges.
    """

    grey: "Grey"
    dpi: float
    turn: int
    codes: tuple[Code, ...]
    is_torn: bool
    is_blank: bool


def look(content: bytes, page: int = 1, is_wanted: Wanted = qr.has_our_shape) -> Look:
    """Look at one page of a PDF or picture, counted from 1: grey, upright, codes with corners.

    `content` is as `filing.inspect` gives it back (clean) or as it was filed. Codes are looked for
    until one that `is_wanted` by its text shows, of a paper of ours or of another kind. Raises
    FilingError as that does, and IndexError for a page that is not there.
    """
    with Stack(photographs.as_pdf(content)) as stack:
        return stack.look(page, is_wanted)


class Stack:
    """A PDF of many pages, opened once; pages count from 1. To be used in a `with`."""

    def __init__(self, content: bytes) -> None:
        """Open it; FilingError "broken" for what is no PDF or is locked with a password."""
        try:
            self._pages = pikepdf.open(BytesIO(content))
            with filing.drawing:
                self._drawn = pypdfium2.PdfDocument(content)
        except (pikepdf.PdfError, pypdfium2.PdfiumError) as error:
            raise filing.FilingError("broken") from error

    def __enter__(self) -> "Stack":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, what: BaseException | None, at: TracebackType | None
    ) -> None:
        self._pages.close()
        with filing.drawing:
            self._drawn.close()

    def __len__(self) -> int:
        return len(self._pages.pages)

    def look(self, page: int, is_wanted: Wanted = qr.has_our_shape) -> Look:
        """Look at one page; IndexError where it is not there, FilingError where it is broken."""
        if not 1 <= page <= len(self):
            raise IndexError(page)
        try:
            grey, dpi = self._picture(page)
        except (pikepdf.PdfError, pypdfium2.PdfiumError) as error:
            raise filing.FilingError("broken") from error
        found = codes.find(grey, is_wanted)
        is_blank = not found.codes and _is_blank(grey)
        if not (is_blank or codes.has_any(found, is_wanted)):
            harder = codes.find_harder(grey, is_wanted)
            found = codes.Found(found.codes + harder.codes, max(found.torn, harder.torn))
        return _upright(grey, dpi, found, is_blank=is_blank)

    def _picture(self, page: int) -> tuple["Grey", float]:
        """The page as a scanner gave it where it is one picture, else drawn."""
        return _scanned(self._pages.pages[page - 1]) or self._draw(page)

    def _draw(self, page: int) -> tuple["Grey", float]:
        import cv2
        import numpy as np

        with filing.drawing:
            opened = self._drawn[page - 1]
            width, height = opened.get_size()
            inches = width * height / filing.POINTS_PER_INCH**2
            dpi = min(LOOK_DPI, (LARGEST_LOOK / max(inches, 1e-6)) ** 0.5)
            drawn = opened.render(scale=dpi / filing.POINTS_PER_INCH)
            dots = np.array(drawn.to_numpy())
            opened.close()
        # Drawn in colour and greyed here: the engine's own grey takes twice as long.
        return cv2.cvtColor(dots, cv2.COLOR_BGR2GRAY).astype("uint8"), dpi

    def take(self, pages: Sequence[tuple[int, int]]) -> bytes:
        """A PDF of these pages in this order, each as (number, degrees to turn clockwise).

        What is on a page is not compressed anew; the same pages give the same bytes.
        """
        taken = pikepdf.new()
        for number, degrees in pages:
            taken.pages.append(self._pages.pages[number - 1])
            taken.pages[-1].rotate(degrees, relative=True)
        return _saved(taken)

    def digest(self, page: int) -> str:
        """SHA-256, in hex, of what one page shows: the same in whichever file it lies."""
        seen = hashlib.sha256()
        one = self._pages.pages[page - 1].obj
        seen.update(f"{int(one.get('/Rotate', 0)) % 360} ".encode())
        _feed(seen, one, DEEPEST)
        return seen.hexdigest()

    def without(self, pages: Sequence[int]) -> bytes:
        """The same PDF with nothing on these pages any more; every page keeps its number."""
        left = pikepdf.new()
        for number, page in enumerate(self._pages.pages, start=1):
            if number in pages:
                left.add_blank_page(page_size=(float(page.mediabox[2]), float(page.mediabox[3])))
            else:
                left.pages.append(page)
        return _saved(left)


def _saved(document: pikepdf.Pdf) -> bytes:
    out = BytesIO()
    document.save(out, deterministic_id=True)
    document.close()
    return out.getvalue()


def _feed(seen: "hashlib._Hash", thing: Any, deep: int) -> None:
    """Hash a thing of a PDF with all that hangs on it, but for how it is packed."""
    if isinstance(thing, pikepdf.Dictionary | pikepdf.Stream):
        for key in sorted(set(thing.keys()) - PACKING if deep else ()):
            seen.update(key.encode())
            _feed(seen, thing[key], deep - 1)
        if isinstance(thing, pikepdf.Stream):
            seen.update(_bytes(thing))
    elif isinstance(thing, pikepdf.Array):
        for one in thing if deep else ():
            _feed(seen, one, deep - 1)
    else:
        seen.update(str(thing).encode() + b" ")


def _bytes(stream: pikepdf.Stream) -> bytes:
    """A picture as it is packed; anything else unpacked, unless it is too long to be harmless."""
    packed = stream.read_raw_bytes()
    if stream.get("/Subtype") == "/Image" or len(packed) > LONG:
        return packed
    try:
        return stream.read_bytes()
    except pikepdf.PdfError:
        return packed


def _upright(grey: "Grey", dpi: float, found: codes.Found, *, is_blank: bool) -> Look:
    import numpy as np

    turn = codes.turn(found.codes)
    height, width = grey.shape
    upright = np.ascontiguousarray(np.rot90(grey, -turn // 90))
    seen = tuple(codes.turned(code, turn, width, height) for code in found.codes)
    return Look(upright, dpi, turn, seen, bool(found.torn and not seen), is_blank)


def _is_blank(grey: "Grey") -> bool:
    """Whether hardly a dot is darker than the paper round it; shade and grain do not count."""
    import cv2
    import numpy as np

    height, width = grey.shape
    small = cv2.resize(
        grey, (max(width // 4, 8), max(height // 4, 8)), interpolation=cv2.INTER_AREA
    )
    rows, columns = (max(int(side * EDGE), 1) for side in small.shape)
    inner = small[rows:-rows, columns:-columns]
    paper = cv2.medianBlur(inner, 31)
    darker = paper.astype(np.int16) - inner
    return bool((darker > 24).mean() < BLANK_SHARE)


def _scanned(page: pikepdf.Page) -> tuple["Grey", float] | None:
    """The one picture that covers a page, as pixels; None where a page is anything else.

    A scanner's page is one JPEG drawn over the whole sheet: to decode it takes a third of the
    time that drawing the page takes.
    """
    import cv2
    import numpy as np

    found = _only_picture(page)
    if found is None:
        return None
    picture, width = found
    # Turned as the page says and not as a camera may have written into the picture.
    how = cv2.IMREAD_GRAYSCALE | cv2.IMREAD_IGNORE_ORIENTATION
    grey = cv2.imdecode(np.frombuffer(picture.read_raw_bytes(), np.uint8), how)
    if grey is None:
        return None
    turn = int(page.obj.get("/Rotate", 0)) % 360
    dpi = grey.shape[1] / width * filing.POINTS_PER_INCH
    return np.ascontiguousarray(np.rot90(grey, -turn // 90)).astype("uint8"), dpi


def _only_picture(page: pikepdf.Page) -> tuple[Any, float] | None:
    """The JPEG that is all there is on a page, and the page's width in points."""
    resources: Any = page.obj.get("/Resources", {})
    drawn: Any = resources.get("/XObject", {})
    if len(drawn) != 1 or page.mediabox != page.cropbox or "/Font" in resources:
        return None
    (name, picture), *_ = drawn.items()
    if not _is_plain_jpeg(picture):
        return None
    left, lower, right, upper = (float(side) for side in page.mediabox)
    size = (right - left, upper - lower)
    if not _covers(page, name, (left, lower), size):
        return None
    return picture, size[0]


def _is_plain_jpeg(picture: Any) -> bool:
    """Whether these are the bytes of one JPEG that is shown as it is, and is not too large."""
    if picture.get("/Subtype") != "/Image" or picture.get("/Filter") != "/DCTDecode":
        return False
    if any(key in picture for key in ("/SMask", "/Mask", "/Decode", "/ImageMask")):
        return False
    return (
        picture.get("/ColorSpace") in ("/DeviceGray", "/DeviceRGB")
        and 0 < filing.pixels(picture) <= LARGEST_LOOK
    )


def _covers(
    page: pikepdf.Page, name: str, corner: tuple[float, float], size: tuple[float, float]
) -> bool:
    """Whether the page draws this picture alone, upright over the whole sheet within a point."""
    matrix = None
    for operands, operator in _drawing(page):
        if operator == "cm" and matrix is None:
            matrix = [float(number) for number in operands]
        elif operator == "Do" and str(operands[0]) == name:
            continue
        elif operator not in ("q", "Q"):
            return False
    wanted = [size[0], 0.0, 0.0, size[1], *corner]
    return matrix is not None and all(
        abs(one - other) <= 1 for one, other in zip(matrix, wanted, strict=True)
    )


def _drawing(page: pikepdf.Page) -> Iterator[tuple[Any, str]]:
    """What a page draws, step by step; nothing where that is long, as no scanner's is."""
    contents = page.obj.get("/Contents")
    parts = contents if isinstance(contents, pikepdf.Array) else [contents]
    if sum(len(part.read_raw_bytes()) for part in parts if part is not None) > LONG:
        yield (), "long"
        return
    for step in pikepdf.parse_content_stream(page):
        yield step.operands, str(step.operator)
