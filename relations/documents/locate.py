"""A printed page found on its picture: from millimetres on paper to pixels, and cut out."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import permutations, product
from typing import TYPE_CHECKING, Any

from . import qr

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Grey = NDArray[np.uint8]
    Points = NDArray[np.float64]

Box = tuple[float, float, float, float]
Corners = Sequence[tuple[float, float]]

SQUARE, CODE = "square-", "code-"
# How far the corners of a code may lie from where squares and layout put them (measured).
NEAREST_MM = 1.2
# Squares are looked for at this many pixels a millimetre: more finds no more and takes longer.
LOOKED_AT = 6.0
# How far a square may lie from where a code of 15 mm says: a photograph leans.
REACH_MM = 30.0
# A square lies in paper round it; what is darker than that by so much is ink.
ROUND_MM, DARKER = 20.0, 24
# The points of one square code.
CORNERS = 4
# As many squares at least bind a page.
LEAST = 3
# A picture with fewer pixels a millimetre (50 an inch) shows no mark of a pen.
COARSEST = 2.0
# Of the nearest spots so many are tried for each corner.
TRIED = 4


@dataclass(frozen=True)
class Located:
    """Where a page lies: `matrix` (3, 3) takes millimetres of the paper to pixels of the picture.

    `squares` were found, 3 or 4; `off_mm` is how far the farthest corner of a code lies from where
    it should.
    """

    matrix: "Points"
    squares: int
    off_mm: float


def locate(grey: "Grey", codes: Sequence[Corners], places: Mapping[str, Box]) -> Located | None:
    """Find the page with these places on a grey picture, or None where that is not certain.

    `grey` is (height, width), 0 black to 255 white, at any resolution, turn and perspective.
    `codes` are the square codes of this very page: left upper, right upper, right lower and left
    lower corner of each as printed, in pixels. `places` are `layouts.places` of the page. All four
    corner squares are asked for, or three of them and a code: fewer are never enough.
    """
    squares = [_centre(places[name]) for name in sorted(places) if name.startswith(SQUARE)]
    symbols = [_symbol(places[name]) for name in sorted(places) if name.startswith(CODE)]
    if len(squares) != 4 or not codes or len(codes) > len(symbols):
        return None
    scale = _scale(codes[0], symbols[0])
    if scale < COARSEST:
        return None
    found: list[Located] = []
    spots = _spots(grey, scale)
    for printed in permutations(symbols, len(codes)):
        found += _fits(spots, codes, printed, squares)
    # Three squares bind a page less than four: they count only where no four do.
    return min(found, key=lambda one: (-one.squares, one.off_mm), default=None)


def cut(grey: "Grey", matrix: "Points", box: Box, *, scale: float) -> "Grey":
    """The part of a page inside `box` (millimetres), upright, at `scale` pixels a millimetre."""
    import cv2
    import numpy as np

    left, top, width, height = box
    to_mm = np.array([[1 / scale, 0, left], [0, 1 / scale, top], [0, 0, 1]])
    # A pixel's place is its middle, in both pictures.
    half = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1]])
    way = np.linalg.inv(half) @ matrix @ to_mm @ half
    size = (max(round(width * scale), 1), max(round(height * scale), 1))
    part = cv2.warpPerspective(
        grey, way, size, flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP, borderValue=(255.0,)
    )
    return part.astype(np.uint8)


def _centre(box: Box) -> tuple[float, float]:
    left, top, width, height = box
    return left + width / 2, top + height / 2


def _symbol(box: Box) -> Corners:
    """The corners of a code on paper, its quiet zone left out."""
    left, top, width, height = box
    quiet = qr.QUIET_ZONE * qr.MODULE_MM
    right, bottom = left + width - quiet, top + height - quiet
    left, top = left + quiet, top + quiet
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def _scale(corners: Corners, printed: Corners) -> float:
    """Pixels a millimetre, by the two diagonals of a code."""
    import numpy as np

    seen, true = (np.asarray(one, float) for one in (corners, printed))
    return float(
        np.linalg.norm(seen[:2] - seen[2:], axis=1).mean()
        / np.linalg.norm(true[:2] - true[2:], axis=1).mean()
    )


def _spots(grey: "Grey", scale: float) -> "Points":
    """The middle of each dark full square of about the right size, (n, 2) in pixels."""
    import cv2
    import numpy as np

    smaller = min(1.0, LOOKED_AT / scale)
    small = cv2.resize(grey, None, fx=smaller, fy=smaller, interpolation=cv2.INTER_AREA)
    side = 5.0 * scale * smaller
    around = round(ROUND_MM * scale * smaller) | 1
    dark = cv2.adaptiveThreshold(
        small, 255, cv2.ADAPTIVE_THRESH_MEAN_C, cv2.THRESH_BINARY_INV, max(around, 3), DARKER
    )
    # All contours and not the outer alone: a dark table may run round the whole page.
    contours, _ = cv2.findContours(dark, cv2.RETR_LIST, cv2.CHAIN_APPROX_NONE)
    found = [_middle(contour, side) for contour in contours if len(contour) > 2 * side]
    middles = [middle for middle in found if middle is not None]
    spots = (np.array(middles, float).reshape(-1, 2) + 0.5) / smaller
    return np.asarray(spots)


def _middle(contour: Any, side: float) -> tuple[float, float] | None:
    """The middle of what is a filled square of about this side, else None."""
    import cv2

    moments = cv2.moments(contour)
    area = moments["m00"]
    if not 0.35 * side**2 < area < 2.0 * side**2:
        return None
    _, (width, height), _ = cv2.minAreaRect(contour)
    if max(width, height) > 1.5 * min(width, height) or area < 0.75 * width * height:
        return None
    return moments["m10"] / area, moments["m01"] / area


def _fits(
    spots: "Points",
    codes: Sequence[Corners],
    printed: Sequence[Corners],
    squares: Sequence[tuple[float, float]],
) -> Iterator[Located]:
    """Every way to lay the page that spots and codes bear out.

    Three squares do only where nothing like the fourth is seen near its place: else the page
    would be laid so that a code of another layout fits.
    """
    import numpy as np

    seen = np.array([point for code in codes for point in code], float)
    true = np.array([point for code in printed for point in code], float)
    scale = _scale(codes[0], printed[0])
    near = [_nearest(spots, place, REACH_MM * scale) for place in _guess(true, seen, squares)]
    which = [corner for corner in range(4) if near[corner]]
    if len(which) < LEAST:
        return
    paper = np.array([squares[corner] for corner in which], float)
    for chosen in product(*(near[corner] for corner in which)):
        laid = _lay(paper, np.array(chosen), true, seen, scale)
        if laid is not None:
            yield laid


def _guess(true: "Points", seen: "Points", squares: Sequence[tuple[float, float]]) -> "Points":
    """About where the squares are, were the page only turned and made larger: (4, 2) pixels."""
    import numpy as np

    paper, pixels = true @ (1, 1j), seen @ (1, 1j)
    from_middle = paper - paper.mean()
    turn = (from_middle.conj() @ (pixels - pixels.mean())) / (from_middle.conj() @ from_middle)
    guess = pixels.mean() + turn * (np.asarray(squares) @ (1, 1j) - paper.mean())
    return np.stack([guess.real, guess.imag], axis=1)


def _nearest(spots: "Points", place: "Points", reach: float) -> list["Points"]:
    import numpy as np

    away = np.linalg.norm(spots - place, axis=1)
    return [spots[index] for index in np.argsort(away)[:TRIED] if away[index] <= reach]


def _lay(
    paper: "Points", chosen: "Points", true: "Points", seen: "Points", scale: float
) -> Located | None:
    """The page laid on these squares, or None where the codes then lie elsewhere."""
    import cv2
    import numpy as np

    matrix = _matrix(paper, chosen, true, seen)
    points = np.vstack([paper, true]).reshape(-1, 1, 2)
    laid = cv2.perspectiveTransform(points, matrix).reshape(-1, 2)
    off = np.linalg.norm(laid - np.vstack([chosen, seen]), axis=1).max() / scale
    return Located(matrix, len(paper), float(off)) if off < NEAREST_MM else None


def _matrix(paper: "Points", chosen: "Points", true: "Points", seen: "Points") -> "Points":
    """What takes the squares on paper to those chosen.

    Three squares and one code could be laid in perspective wherever the code is: with them the
    page must lie flat, so that the code still tells. Two codes bind three squares in perspective.
    """
    import cv2
    import numpy as np

    if len(paper) == 4:
        return _perspective(paper, chosen)
    if len(true) > CORNERS:
        return _perspective(np.vstack([paper, true]), np.vstack([chosen, seen]))
    flat = cv2.getAffineTransform(paper.astype(np.float32), chosen.astype(np.float32))
    return np.vstack([flat, [0.0, 0.0, 1.0]])


def _perspective(paper: "Points", pixels: "Points") -> "Points":
    """The (3, 3) matrix that takes four or more points nearest to others: direct linear transform.

    Both are first moved and scaled to lie about the origin, else the sums lose their last digits.
    """
    import numpy as np

    (one, from_paper), (two, from_pixels) = _about_origin(paper), _about_origin(pixels)
    rows = []
    for (x, y), (u, v) in zip(one, two, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y, -u], [0, 0, 0, x, y, 1, -v * x, -v * y, -v]]
    matrix = np.linalg.svd(np.array(rows))[2][-1].reshape(3, 3)
    whole = np.linalg.inv(from_pixels) @ matrix @ from_paper
    return np.asarray(whole / whole[2, 2])


def _about_origin(points: "Points") -> tuple["Points", "Points"]:
    import numpy as np

    middle, spread = points.mean(axis=0), points.std()
    move = np.array([[1, 0, -middle[0]], [0, 1, -middle[1]], [0, 0, spread]]) / spread
    return (points - middle) / spread, move
