"""Whether a tick box on a scan is marked: the share of ink inside its printed frame."""

from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Grey = NDArray[np.uint8]
    Sums = NDArray[np.float64]

# Pixels a millimetre of what is looked at, and how much paper round a box comes along.
SCALE, ROUND_MM = 8, 2.0
# How far a frame may lie from where it was printed: scanners pull unevenly.
SLIDE_MM = 1.3
# The printed line of a box, and how far from its inner edge ink begins to count.
LINE_MM, INSIDE_MM = 0.35, 0.3
# Below the first a box is empty, above the second it is marked (measured on synthetic marks).
EMPTY_BELOW, MARKED_ABOVE = 0.02, 0.10
# Ink is darker than this share of the paper round it.
INK, PAPER_PERCENTILE = 0.74, 80
# Of its printed line so much must be seen, or it is not the box.
FRAME_SEEN = 0.5
# A box filled with ink shows a frame anywhere: the nearest one is taken.
AWAY_COSTS = 0.1


class Mark(StrEnum):
    """What stands in a box."""

    EMPTY = "empty"
    UNSURE = "unsure"
    MARKED = "marked"


def read(part: "Grey", width: float, height: float) -> Mark:
    """What stands in a box of so many millimetres.

    `part` is grey (0 black to 255 white), at `SCALE` pixels a millimetre: the box as the layout has
    it and `ROUND_MM` of paper on each side. Unsure where the frame is not there.
    """
    found = share(part, width, height)
    if found is None or EMPTY_BELOW <= found <= MARKED_ABOVE:
        return Mark.UNSURE
    return Mark.EMPTY if found < EMPTY_BELOW else Mark.MARKED


def share(part: "Grey", width: float, height: float) -> float | None:
    """The share of ink inside the frame, 0 to 1, or None where the frame is not seen."""
    import numpy as np

    ink = part < INK * np.percentile(part, PAPER_PERCENTILE)
    sums = np.zeros((ink.shape[0] + 1, ink.shape[1] + 1))
    sums[1:, 1:] = ink.cumsum(axis=0).cumsum(axis=1)
    size = round(height * SCALE), round(width * SCALE)
    line = round(LINE_MM * SCALE)
    within = line + round(INSIDE_MM * SCALE)
    outer, outer_area = _ink(sums, size, 0)
    inner, inner_area = _ink(sums, size, line)
    inside, inside_area = _ink(sums, size, within)
    frame = (outer - inner) / (outer_area - inner_area)
    top, left = np.unravel_index(np.argmax(frame - _away()), frame.shape)
    return float(inside[top, left]) / inside_area if frame[top, left] >= FRAME_SEEN else None


def _ink(sums: "Sums", size: tuple[int, int], inset: int) -> tuple["Sums", int]:
    """The ink in the box drawn in by `inset`, for each place it may lie at, and its area."""
    slide, first = round(SLIDE_MM * SCALE), round((ROUND_MM - SLIDE_MM) * SCALE)
    places = 2 * slide + 1
    (top, bottom), (left, right) = (
        (slice(first + inset, first + inset + places), slice(end, end + places))
        for end in (first + side - inset for side in size)
    )
    ink = sums[bottom, right] - sums[top, right] - sums[bottom, left] + sums[top, left]
    return ink, (size[0] - 2 * inset) * (size[1] - 2 * inset)


def _away() -> "Sums":
    """What a place costs the farther it is from where the layout has the box."""
    import numpy as np

    slide = round(SLIDE_MM * SCALE)
    steps = np.arange(-slide, slide + 1) / slide
    return np.asarray(AWAY_COSTS * np.hypot(steps[:, None], steps[None, :]))
