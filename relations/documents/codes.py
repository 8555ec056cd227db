"""The square codes on a picture of a page, found at any angle, with their corners."""

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

from . import qr

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Grey = NDArray[np.uint8]

# What is tried on a page whose codes are not read at once, in the order measured: the contrast of
# parts, sharpened, larger, softened, smaller. Blur and bad light need the first three, grain and
# coarse print the last two.
LARGER, SMALLER = 1.6, 0.6
TURN = 90


class Point(NamedTuple):
    """A place on the picture, in pixels from its left upper corner."""

    x: float
    y: float


class Code(NamedTuple):
    """One square code: what it says and where it is printed.

    `corners` are left upper, right upper, right lower and left lower as the code was printed, so
    that they tell how the page lies.
    """

    text: str
    corners: tuple[Point, Point, Point, Point]


class Found(NamedTuple):
    """The codes of a picture, and how many were seen that could not be read to their end."""

    codes: tuple[Code, ...]
    torn: int


Wanted = Callable[[str], bool]


def find(grey: "Grey", is_wanted: Wanted = qr.has_our_shape) -> Found:
    """Read the square codes that show at once on a grey picture (height, width).

    First at the size it has alone: that is a third faster and nearly always enough where one that
    `is_wanted` by its text is among them.
    """
    quick = _read(grey, 1.0, is_quick=True)
    return quick if has_any(quick, is_wanted) else _read(grey, 1.0)


def find_harder(grey: "Grey", is_wanted: Wanted = qr.has_our_shape) -> Found:
    """Read them on the picture mended in five ways, one after the other, until a wanted one shows.

    Source of the tries and their order: fake scans, 60 a condition (paper.md 4).
    """
    codes: dict[str, Code] = {}
    torn = 0
    for mend, scale in MENDED:
        found = _read(mend(grey), scale)
        torn = max(torn, found.torn)
        for code in found.codes:
            codes.setdefault(_key(code), code)
        if has_any(found, is_wanted):
            break
    return Found(tuple(codes.values()), torn)


def has_any(found: Found, is_wanted: Wanted) -> bool:
    """Whether a code that is wanted is among them."""
    return any(is_wanted(code.text) for code in found.codes)


def _key(code: Code) -> str:
    """Both codes of a page say the same, so place counts as well; a hundred pixels are one code."""
    left_upper = code.corners[0]
    return f"{code.text} {round(left_upper.x / 100)} {round(left_upper.y / 100)}"


def _even(grey: "Grey") -> "Grey":
    import cv2

    return cv2.createCLAHE(clipLimit=2.0, tileGridSize=(8, 8)).apply(grey).astype("uint8")


def _sharp(grey: "Grey") -> "Grey":
    import cv2

    return cv2.addWeighted(grey, 2.5, _blurred(grey, 2.0), -1.5, 0).astype("uint8")


def _soft(grey: "Grey") -> "Grey":
    return _blurred(grey, 1.0)


def _blurred(grey: "Grey", sigma: float) -> "Grey":
    import cv2

    return cv2.GaussianBlur(grey, (0, 0), sigma).astype("uint8")


def _larger(grey: "Grey") -> "Grey":
    import cv2

    resized = cv2.resize(grey, None, fx=LARGER, fy=LARGER, interpolation=cv2.INTER_CUBIC)
    return resized.astype("uint8")


def _smaller(grey: "Grey") -> "Grey":
    import cv2

    resized = cv2.resize(grey, None, fx=SMALLER, fy=SMALLER, interpolation=cv2.INTER_AREA)
    return resized.astype("uint8")


Mend = Callable[["Grey"], "Grey"]
MENDED: tuple[tuple[Mend, float], ...] = (
    (_even, 1.0),
    (_sharp, 1.0),
    (_larger, LARGER),
    (_soft, 1.0),
    (_smaller, SMALLER),
)


def _read(grey: "Grey", scale: float, *, is_quick: bool = False) -> Found:
    """One try; places are given in pixels of the picture before it was made larger.

    A quick one looks at no smaller copies of the picture and counts nothing torn.
    """
    import zxingcpp

    seen = zxingcpp.read_barcodes(
        grey,
        formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode),
        try_invert=False,
        try_downscale=not is_quick,
        return_errors=not is_quick,
    )
    codes = [_code(one, scale) for one in seen if one.valid]
    return Found(tuple(codes), len(seen) - len(codes))


def _code(one: object, scale: float) -> Code:
    place = one.position  # type: ignore[attr-defined] # the package brings no types
    left_upper, right_upper, right_lower, left_lower = (
        Point(corner.x / scale, corner.y / scale)
        for corner in (place.top_left, place.top_right, place.bottom_right, place.bottom_left)
    )
    text = one.text  # type: ignore[attr-defined]
    return Code(text, (left_upper, right_upper, right_lower, left_lower))


def turn(codes: tuple[Code, ...]) -> int:
    """By how many degrees the page is to be turned clockwise to stand upright: 0, 90, 180, 270.

    0 where there is no code. Codes are printed upright, so their upper edge runs to the right.
    """
    if not codes:
        return 0
    left, right = codes[0].corners[:2]
    leans = math.degrees(math.atan2(right.y - left.y, right.x - left.x))
    return -round(leans / TURN) * TURN % 360


def turned(code: Code, degrees: int, width: int, height: int) -> Code:
    """The same code once its picture of so many pixels was turned clockwise by `degrees`."""
    ways: dict[int, Callable[[Point], Point]] = {
        0: lambda point: point,
        90: lambda point: Point(height - point.y, point.x),
        180: lambda point: Point(width - point.x, height - point.y),
        270: lambda point: Point(point.y, width - point.x),
    }
    way = ways[degrees]
    one, two, three, four = (way(corner) for corner in code.corners)
    return Code(code.text, (one, two, three, four))
