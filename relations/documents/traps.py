"""What a small PDF blows up to: its pictures, what it packs, and what draws what; before any is.

Limits are of this house: what scanners make stays far below (measured on its own papers and
stacks). A file of half a megabyte unpacked to half a gigabyte, one of two kilobytes kept the
engine drawing for minutes.
"""

import re
import warnings
from collections import Counter
from io import BytesIO
from typing import Any

import pikepdf
from PIL import Image

LARGEST_PIXELS = 200_000_000
# What a PDF packs beside its pictures: each part, and all of it, unpacked. A page of words is a few
# kilobytes; half a megabyte of packed zeros is half a gigabyte (measured).
LARGEST_PART, LARGEST_PARTS = 32 * 1024 * 1024, 128 * 1024 * 1024
# How often a page may draw something by its name: twenty that draw twenty that draw twenty … keep
# the engine busy for hours, out of a file of two kilobytes.
MOST_DRAWN, DEEPEST_DRAWN = 20_000, 12
_DRAWS = re.compile(rb"/([^\s/<>\[\]()%]+)\s+Do\b")
# Of the one packing whose unpacking no limit of the reader holds: as it is packed.
LARGEST_LZW = 16 * 1024

# Held by the reader itself, in the whole process; what it cannot unpack within them is broken.
pikepdf.settings.set_qpdf_limits(
    flate_max_memory=LARGEST_PART, run_length_max_memory=LARGEST_PART, dct_max_memory=LARGEST_PART,
    png_max_memory=LARGEST_PART, tiff_max_memory=LARGEST_PART, max_stream_filters=4,
)  # fmt: skip


class FilingError(ValueError):
    """An upload that is no scan; `code` as `inspect` says."""

    def __init__(self, code: str) -> None:
        """Keep the code; the page holds the words."""
        super().__init__(code)
        self.code = code


def look_for(document: pikepdf.Pdf) -> None:
    """Refuse a document that is a trap: FilingError "too_many_pixels" or "broken"."""
    _count_pixels(document)
    _count_bytes(document)
    _count_drawn(document)


def _count_pixels(document: pikepdf.Pdf) -> None:
    """Refuse a picture that a small file blows up to more than a page can hold; none is opened."""
    for thing in document.objects:
        is_picture = isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == "/Image"
        if is_picture and pixels(thing) > LARGEST_PIXELS:
            raise FilingError("too_many_pixels")


def _count_bytes(document: pikepdf.Pdf) -> None:
    """Refuse what a small file unpacks to more than any paper holds; the reader stops each part."""
    left = LARGEST_PARTS
    for thing in document.objects:
        if not isinstance(thing, pikepdf.Stream) or thing.get("/Subtype") == "/Image":
            continue
        if "/LZWDecode" in str(thing.get("/Filter")) and len(thing.read_raw_bytes()) > LARGEST_LZW:
            raise FilingError("broken")
        left -= len(thing.read_bytes())
        if left < 0:
            raise FilingError("broken")


def _count_drawn(document: pikepdf.Pdf) -> None:
    """Refuse pages whose parts draw each other more often than any paper needs."""
    known: dict[tuple[int, int], int] = {}
    try:
        for page in document.pages:
            content = page.get("/Contents", pikepdf.Array())
            parts = content if isinstance(content, pikepdf.Array) else [content]
            said = b"\n".join(part.read_bytes() for part in parts)
            if _drawn(said, page.get("/Resources"), known, 0) > MOST_DRAWN:
                raise FilingError("broken")
    except (AttributeError, TypeError) as error:
        raise FilingError("broken") from error


def _drawn(content: bytes, resources: Any, known: dict[tuple[int, int], int], deep: int) -> int:
    """How often this content draws anything, by itself and by what it draws."""
    named = resources.get("/XObject") if isinstance(resources, pikepdf.Dictionary) else None
    if deep > DEEPEST_DRAWN:
        raise FilingError("broken")
    costs: dict[str, int] = {}
    for name, thing in named.items() if isinstance(named, pikepdf.Dictionary) else ():
        if not isinstance(thing, pikepdf.Stream) or thing.get("/Subtype") != "/Form":
            continue
        if thing.objgen not in known:
            known[thing.objgen] = 0  # one that draws itself is drawn once by every reader
            inner = thing.get("/Resources", resources)
            known[thing.objgen] = _drawn(thing.read_bytes(), inner, known, deep + 1)
        costs[name] = known[thing.objgen]
    dearest = max(costs.values(), default=0)
    times = Counter(_DRAWS.findall(content))
    return sum(
        many * (1 + (dearest if b"#" in name else costs.get(f"/{name.decode('latin-1')}", 0)))
        for name, many in times.items()
    )


def pixels(picture: Any) -> int:
    """How many pixels a picture of a PDF has, by what the PDF and its own first bytes say.

    The more of the two, since readers differ in which they believe; 0 where a JPEG is none.
    """
    try:
        said = int(picture.get("/Width", 0)) * int(picture.get("/Height", 0))
    except (TypeError, ValueError) as error:
        raise FilingError("broken") from error
    if picture.get("/Filter") != "/DCTDecode":
        return said
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            with Image.open(BytesIO(picture.read_raw_bytes()), formats=["JPEG"]) as opened:
                return max(said, opened.width * opened.height)
    except Image.DecompressionBombError:
        return LARGEST_PIXELS * 2
    except (OSError, SyntaxError, ValueError):
        return 0
