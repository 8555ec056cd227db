"""A scanner and a telephone of the tests: pages of a printed paper as they come back.

Flat scans have noise and JPEG 60 at any angle; photographs have perspective, uneven light and
noise. Source of the conditions: the project's own measurements (paper.md 4).
"""

from base64 import b64decode
from collections.abc import Sequence
from functools import cache
from io import BytesIO

import cv2
import numpy as np
import pikepdf
import pypdfium2

from relations.documents import qr
from relations.documents.render import render
from relations.documents.serials import check

KEY = bytes(range(32))
A4 = (8.27, 11.69)
SHEET = """<style>@page{{size:A4;margin:14mm}} body{{font:11pt Mukta}}
img{{image-rendering:pixelated;position:fixed;width:{side}mm;left:80mm}}
table{{width:100%}} td{{border:1px solid}}
</style><h1>{serial}</h1><img style="top:-10mm" src="{code}"><img style="bottom:-12mm" src="{code}">
<table>{rows}</table>"""


def serial(number: int) -> str:
    return f"{number:05}-{check(f'{number:05}')}"


def payload(number: int, page: int, key: bytes = KEY, kind: str = "F") -> str:
    return qr.payload(kind, serial(number), page, "A7", key=key)


@cache
def printed(number: int, page: int, key: bytes = KEY, kind: str = "F") -> bytes:
    """One side of a paper with text, boxes and two square codes, at the edges above and below."""
    rows = "<tr><td>A line about what is asked, and a box</td><td>yes</td><td>no</td></tr>" * 24
    code = qr.picture(payload(number, page, key, kind))
    html = SHEET.format(side=qr.SIDE_MM, serial=serial(number), code=code, rows=rows)
    return render(html, lang="en", title=serial(number), is_tagged=False)


def coded(number: int, page: int, key: bytes = KEY, kind: str = "F") -> np.ndarray:
    """A sheet at 150 dpi with nothing on it but a square code; made in no time."""
    picture = b64decode(qr.picture(payload(number, page, key, kind)).partition(",")[2])
    code = cv2.imdecode(np.frombuffer(picture, np.uint8), cv2.IMREAD_GRAYSCALE)
    side = round(qr.SIDE_MM / 25.4 * 150)
    sheet = blank(seed=page)
    sheet[100 : 100 + side, 500 : 500 + side] = cv2.resize(
        code, (side, side), interpolation=cv2.INTER_AREA
    )
    return sheet


@cache
def drawn(content: bytes, dpi: int, page: int = 0) -> np.ndarray:
    """The page as the ink on white that a scanner sees."""
    document = pypdfium2.PdfDocument(content)
    grey = cv2.cvtColor(document[page].render(scale=dpi / 72).to_numpy(), cv2.COLOR_BGR2GRAY)
    document.close()
    return grey


def flat(ink: np.ndarray, angle: float = 0, seed: int = 0, noise: float = 8) -> np.ndarray:
    """The sheet on the glass at an angle, in degrees against the clock; the glass is white."""
    height, width = ink.shape
    turn = cv2.getRotationMatrix2D((width / 2, height / 2), angle, 1)
    cos, sin = abs(turn[0, 0]), abs(turn[0, 1])
    size = (int(height * sin + width * cos), int(height * cos + width * sin))
    turn[:, 2] += (size[0] - width) / 2, (size[1] - height) / 2
    lying = cv2.warpAffine(ink, turn, size, flags=cv2.INTER_AREA, borderValue=255)
    return grained(lying.astype(np.float32) * 0.92 + 10, seed, noise)


def photographed(
    ink: np.ndarray, seed: int = 0, lean: float = 0.08, noise: float = 6
) -> np.ndarray:
    """The sheet on a table, from above and aside: perspective, a shade across, a dark table."""
    chance = np.random.default_rng(seed)
    height, width = ink.shape
    room = 0.12
    size = (int(width * (1 + 2 * room)), int(height * (1 + 2 * room)))
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32)
    moved = corners + room * np.array([width, height], np.float32)
    moved += chance.uniform(-lean, lean, (4, 2)).astype(np.float32) * width
    view = cv2.getPerspectiveTransform(corners, moved.astype(np.float32))
    seen = cv2.warpPerspective(ink, view, size, flags=cv2.INTER_AREA, borderValue=70)
    light = np.linspace(0.62, 1.0, size[0])[None, :] * np.linspace(0.9, 1.0, size[1])[:, None]
    return grained(seen.astype(np.float32) * light, seed, noise)


def grained(grey: np.ndarray, seed: int, noise: float) -> np.ndarray:
    """Each point a little lighter or darker by chance; `noise` is the deviation, in grey levels."""
    grain = np.random.default_rng(seed).standard_normal(grey.shape, dtype=np.float32)
    return cv2.add(grey.astype(np.float32), grain * np.float32(noise), dtype=cv2.CV_8U)


def blank(dpi: int = 150, seed: int = 0) -> np.ndarray:
    """A white sheet as a scanner gives it: never quite white."""
    size = (int(A4[1] * dpi), int(A4[0] * dpi))
    return grained(np.full(size, 246, np.float32), seed, 6)


def jpeg(grey: np.ndarray, quality: int = 60) -> bytes:
    return cv2.imencode(".jpg", grey, [cv2.IMWRITE_JPEG_QUALITY, quality])[1].tobytes()


def grey_picture(document, width, height, content, how):
    """A picture of grey points in a PDF, packed as its filter says."""
    return pikepdf.Stream(
        document,
        content,
        Type=pikepdf.Name.XObject,
        Subtype=pikepdf.Name.Image,
        Width=width,
        Height=height,
        ColorSpace=pikepdf.Name.DeviceGray,
        BitsPerComponent=8,
        Filter=pikepdf.Name(how),
    )


def pdf(pictures: Sequence[np.ndarray], dpi: int = 200, quality: int = 60) -> bytes:
    """What a scanner makes of a stack: a PDF with one JPEG a page."""
    document = pikepdf.new()
    for grey in pictures:
        height, width = grey.shape
        page = document.add_blank_page(page_size=(width * 72 / dpi, height * 72 / dpi))
        picture = grey_picture(document, width, height, jpeg(grey, quality), "/DCTDecode")
        name = page.add_resource(picture, pikepdf.Name.XObject, pikepdf.Name("/Picture"))
        size = f"{width * 72 / dpi:.3f} 0 0 {height * 72 / dpi:.3f}"
        page.contents_add(f"q {size} 0 0 cm {name} Do Q".encode())
    out = BytesIO()
    document.save(out)
    return out.getvalue()


def sides(number: int, *pages: int, key: bytes = KEY, kind: str = "F") -> list[np.ndarray]:
    """These sides of a paper, as they lie on the glass."""
    return [flat(drawn(printed(number, page, key, kind), 150), seed=page) for page in pages]
