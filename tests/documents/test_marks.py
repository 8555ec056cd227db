"""The ink inside a printed box says empty, unsure or marked, wherever the frame then lies."""

import cv2
import numpy as np
import pytest

from relations.documents import marks
from relations.documents.marks import Mark

SIDES = (4.2, 3.2)
PAPER, INK = 240, 30


def part(side: float = 4.2, shift: tuple[float, float] = (0, 0), light: float = 1.0):
    """An empty box as it is cut out, its frame moved by so many millimetres."""
    size = round((side + 2 * marks.ROUND_MM) * marks.SCALE)
    grey = np.full((size, size), PAPER, np.uint8)
    left, top = (round((marks.ROUND_MM + by) * marks.SCALE) for by in shift)
    width, line = round(side * marks.SCALE), round(marks.LINE_MM * marks.SCALE)
    grey[top : top + width, left : left + width] = INK
    grey[top + line : top + width - line, left + line : left + width - line] = PAPER
    return (grey * light).astype(np.uint8)


def pen(grey, *points, wide: float = 0.4):
    """A line through points in millimetres from where the frame was printed."""
    dots = [[round((marks.ROUND_MM + way) * marks.SCALE) for way in point] for point in points]
    cv2.polylines(grey, [np.array(dots)], False, INK, max(round(wide * marks.SCALE), 1))
    return grey


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("light", [1.0, 0.5])
@pytest.mark.parametrize("shift", [(0, 0), (1.2, -1.2), (-1.2, 0.4)])
def test_empty_box_is_empty_wherever_its_frame_lies(side, light, shift):
    assert marks.read(part(side, shift, light), side, side) == Mark.EMPTY


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("shift", [(0, 0), (0.9, 0.9)])
def test_tick_is_a_mark(side, shift):
    x, y = shift
    ticked = pen(
        part(side, shift),
        (x + 0.6, y + 0.5 * side),
        (x + 0.4 * side, y + side - 0.6),
        (x + side, y),
    )
    assert marks.read(ticked, side, side) == Mark.MARKED


def test_dot_is_neither_a_mark_nor_nothing():
    dotted = pen(part(), (2.0, 2.0), (2.4, 2.0), wide=0.8)
    assert marks.EMPTY_BELOW <= marks.share(dotted, 4.2, 4.2) <= marks.MARKED_ABOVE
    assert marks.read(dotted, 4.2, 4.2) == Mark.UNSURE


def test_box_filled_to_its_edges_is_a_mark():
    filled = part()
    filled[16:50, 16:50] = INK
    assert marks.read(filled, 4.2, 4.2) == Mark.MARKED


def test_ink_beside_the_box_is_no_mark():
    beside = pen(part(), (-1.0, -1.0), (-1.0, 5.0))
    assert marks.read(beside, 4.2, 4.2) == Mark.EMPTY


def test_where_no_frame_is_seen_nothing_is_said():
    nothing = np.full((66, 66), PAPER, np.uint8)
    assert marks.share(nothing, 4.2, 4.2) is None
    assert marks.read(nothing, 4.2, 4.2) == Mark.UNSURE


def test_frame_farther_away_than_paper_is_ever_pulled_is_not_this_box():
    assert marks.share(part(shift=(1.9, 1.9)), 4.2, 4.2) is None


def test_faint_shade_of_the_paper_is_no_ink():
    shaded = part()
    shaded[20:46, 20:46] = round(PAPER * 0.8)
    assert marks.read(shaded, 4.2, 4.2) == Mark.EMPTY
