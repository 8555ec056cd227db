"""A page is found by its four squares and its own code, or it is not found at all."""

import cv2
import numpy as np
import pytest

from relations.documents import locate, qr

PLACES = {
    "square-top-left": (7.0, 7.0, 5.0, 5.0),
    "square-top-right": (198.0, 7.0, 5.0, 5.0),
    "square-bottom-left": (7.0, 266.0, 5.0, 5.0),
    "square-bottom-right": (198.0, 266.0, 5.0, 5.0),
    "code-head-1": (95.1, 7.5, qr.SIDE_MM, qr.SIDE_MM),
    "code-foot-1": (95.1, 251.0, qr.SIDE_MM, qr.SIDE_MM),
    "no_face": (102.9, 39.1, 4.2, 4.2),
}
SQUARES = [name for name in PLACES if name.startswith("square-")]
DOTS = 6.0  # a millimetre: about 150 an inch
PAGE = (210.0, 297.0)
WHITE, BLACK = 245, 20


def corners(name: str) -> np.ndarray:
    """The corners of a square code on paper: its quiet zone of four modules left out."""
    left, top, side, _ = PLACES[name]
    quiet = 4 * 0.6
    near, far = quiet, side - quiet
    around = [(near, near), (far, near), (far, far), (near, far)]
    return np.array([(left + x, top + y) for x, y in around])


def printed(without=(), also=()) -> np.ndarray:
    """The page at rest: squares, and what else is dark, each as left, top, width, height in mm."""
    page = np.full((round(PAGE[1] * DOTS), round(PAGE[0] * DOTS)), WHITE, np.uint8)
    for left, top, width, height in [*(PLACES[n] for n in SQUARES if n not in without), *also]:
        x, y = round(left * DOTS), round(top * DOTS)
        page[y : y + round(height * DOTS), x : x + round(width * DOTS)] = BLACK
    return page


class Lying:
    """A page as it lies on the glass: turned, made smaller or leaning, on white or a dark table."""

    def __init__(self, page, *, turn=0.0, scale=1.0, lean=0.0, ground=WHITE) -> None:
        height, width = page.shape
        long = round(np.hypot(height, width) * 1.1)
        middle = np.array([[1, 0, -width / 2], [0, 1, -height / 2], [0, 0, 1]])
        way = np.radians(turn)
        turned = scale * np.array([[np.cos(way), -np.sin(way)], [np.sin(way), np.cos(way)]])
        view = np.eye(3)
        view[:2, :2] = turned
        view[2, 0] = lean / width
        back = np.array([[1, 0, long / 2], [0, 1, long / 2], [0, 0, 1]])
        self.way = back @ view @ middle
        self.grey = cv2.warpPerspective(
            page, self.way, (long, long), flags=cv2.INTER_AREA, borderValue=float(ground)
        )
        self.matrix = self.way @ np.diag([DOTS, DOTS, 1.0])

    def at(self, points) -> list[tuple[float, float]]:
        """Millimetres on paper as pixels of the picture."""
        return [tuple(one) for one in _through(self.matrix, points)]

    def codes(self, *names: str):
        return [self.at(corners(name)) for name in names]

    def off(self, found: locate.Located) -> float:
        """How far the corners of the paper lie from where they were found, in millimetres."""
        ends = [(12, 12), (198, 12), (198, 266), (12, 266)]
        away = np.array(self.at(ends)) - _through(found.matrix, ends)
        return float(np.linalg.norm(away, axis=1).max() / DOTS)


def _through(matrix, points) -> np.ndarray:
    array = np.asarray(points, float).reshape(-1, 1, 2)
    return cv2.perspectiveTransform(array, np.asarray(matrix, float)).reshape(-1, 2)


HOW = {
    "straight": {},
    "askew": {"turn": 2.7},
    "on its side": {"turn": 91},
    "upside down": {"turn": 180},
    "any angle": {"turn": 217.3},
    "printed smaller to fit the page": {"scale": 0.93},
    "leaning on a dark table": {"turn": -4, "lean": 0.12, "ground": 60},
}


@pytest.mark.parametrize("names", [("code-head-1", "code-foot-1"), ("code-foot-1",)])
@pytest.mark.parametrize("how", HOW.values(), ids=HOW)
def test_page_is_found_however_it_lies(how, names):
    lying = Lying(printed(), **how)
    found = locate.locate(lying.grey, lying.codes(*names), PLACES)
    assert found is not None
    assert found.squares == 4
    assert lying.off(found) < 0.3


@pytest.mark.parametrize("gone", SQUARES)
def test_three_squares_and_the_codes_are_enough(gone):
    lying = Lying(printed(without=[gone]), turn=3)
    found = locate.locate(lying.grey, lying.codes("code-head-1", "code-foot-1"), PLACES)
    assert found is not None
    assert found.squares == 3
    assert lying.off(found) < 1.0


@pytest.mark.parametrize("gone", SQUARES)
@pytest.mark.parametrize("code", ["code-head-1", "code-foot-1"])
def test_three_squares_and_one_code_are_enough_where_the_page_lies_flat(gone, code):
    lying = Lying(printed(without=[gone]), turn=3)
    found = locate.locate(lying.grey, lying.codes(code), PLACES)
    assert found is not None
    assert (found.squares, lying.off(found) < 0.5) == (3, True)
    leaning = Lying(printed(without=[gone]), turn=3, lean=0.2)
    assert locate.locate(leaning.grey, leaning.codes(code), PLACES) is None


@pytest.mark.parametrize("gone", [SQUARES[:2], SQUARES[1:3], SQUARES])
def test_fewer_squares_are_never_enough(gone):
    lying = Lying(printed(without=gone))
    assert locate.locate(lying.grey, lying.codes("code-head-1", "code-foot-1"), PLACES) is None


def test_dark_spots_near_a_corner_lead_nobody_astray():
    spots = [(20.0, 8.0, 5.0, 5.0), (190.0, 262.0, 4.5, 5.0), (7.0, 20.0, 5.5, 5.0)]
    lying = Lying(printed(also=spots), turn=-2)
    found = locate.locate(lying.grey, lying.codes("code-head-1"), PLACES)
    assert found is not None
    assert (found.squares, lying.off(found) < 0.3) == (4, True)


def test_page_whose_codes_stand_elsewhere_is_of_another_layout():
    lying = Lying(printed())
    moved = {**PLACES, "code-head-1": (91.0, 7.5, qr.SIDE_MM, qr.SIDE_MM)}
    assert locate.locate(lying.grey, lying.codes("code-head-1", "code-foot-1"), moved) is None
    moved["code-foot-1"] = (91.0, 251.0, qr.SIDE_MM, qr.SIDE_MM)
    assert locate.locate(lying.grey, lying.codes("code-head-1", "code-foot-1"), moved) is None
    del moved["code-foot-1"]
    assert locate.locate(lying.grey, lying.codes("code-head-1"), moved) is None


def test_page_whose_squares_stand_elsewhere_is_of_another_layout():
    lying = Lying(printed())
    moved = {**PLACES, "square-bottom-left": (7.0, 248.0, 5.0, 5.0)}
    moved["square-bottom-right"] = (198.0, 248.0, 5.0, 5.0)
    codes = lying.codes("code-head-1", "code-foot-1")
    assert locate.locate(lying.grey, codes, moved) is None


def test_without_a_code_or_without_squares_on_its_layout_nothing_is_looked_for():
    lying = Lying(printed())
    bare = {name: box for name, box in PLACES.items() if name not in SQUARES}
    assert locate.locate(lying.grey, [], PLACES) is None
    assert locate.locate(lying.grey, lying.codes("code-head-1"), bare) is None
    three = lying.codes("code-head-1", "code-foot-1", "code-head-1")
    assert locate.locate(lying.grey, three, PLACES) is None


def test_picture_too_coarse_for_a_pen_is_not_read():
    lying = Lying(printed(), scale=0.3)
    assert locate.locate(lying.grey, lying.codes("code-head-1"), PLACES) is None


def test_codes_that_say_nothing_of_a_place_find_nothing():
    lying = Lying(printed())
    heap = [[(5.0, 5.0), (300.0, 5.0), (5.0, 5.0), (5.0, 5.0)]]
    assert locate.locate(lying.grey, heap, PLACES) is None


def test_box_is_cut_out_upright_and_in_its_place():
    left, top, width, height = PLACES["no_face"]
    lying = Lying(printed(also=[(left, top, width / 2, height)]), turn=180)
    found = locate.locate(lying.grey, lying.codes("code-head-1"), PLACES)
    assert found is not None
    part = locate.cut(lying.grey, found.matrix, (left, top, width, height), scale=8)
    assert part.shape == (34, 34)
    assert part[:, :14].mean() < 60
    assert part[:, 20:].mean() > 200


def test_what_lies_outside_of_the_picture_is_cut_out_white():
    part = locate.cut(np.zeros((9, 9), np.uint8), np.eye(3), (20.0, 20.0, 2.0, 2.0), scale=4)
    assert (part == 255).all()
