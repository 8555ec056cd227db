"""Square codes are read at any angle from scans and photographs, and never read wrongly."""

import numpy as np
import pytest

from relations.documents import codes
from relations.documents.split import look
from tests.documents import scanner

NUMBER = 70_042
BAR = 0.99
MANY = 60
# What the gate has time for; the whole count is among what takes long.
FEW = {150: 12, 200: 8, 300: 4}  # coarse scans are the harder ones, fine ones take longer
FLAT = [150, 200, 300]


def read_share(pictures):
    """The share of pages of which at least one code was read; a wrong text fails at once."""
    read = 0
    for page, picture in pictures:
        found = {code.text for code in look(picture).codes}
        assert found <= {scanner.payload(NUMBER, page)}, "a code was read wrongly"
        read += bool(found)
    return read


def flat_scans(dpi, count):
    chance = np.random.default_rng(dpi)
    for seed in range(count):
        page = seed % 2 + 1
        ink = scanner.drawn(scanner.printed(NUMBER, page), dpi)
        lying = scanner.flat(ink, chance.uniform(0, 360), seed)
        yield page, scanner.pdf([lying], dpi)


def photographs(count, **how):
    for seed in range(count):
        page = seed % 2 + 1
        ink = scanner.drawn(scanner.printed(NUMBER, page), 300)
        yield page, scanner.jpeg(scanner.photographed(ink, seed, **how), 70)


@pytest.mark.parametrize("dpi", FLAT)
def test_scan_at_any_angle_is_read(dpi, record_property):
    read = read_share(flat_scans(dpi, FEW[dpi]))
    record_property("read", f"{read} of {FEW[dpi]}")
    assert read >= BAR * FEW[dpi]


@pytest.mark.long
@pytest.mark.parametrize("dpi", FLAT)
def test_sixty_scans_at_any_angle_are_read(dpi, capsys):
    read = read_share(flat_scans(dpi, MANY))
    with capsys.disabled():
        print(f"\n{dpi} dpi, any angle: {read} of {MANY} pages read, 0 wrong")  # noqa: T201
    assert read >= BAR * MANY


@pytest.mark.parametrize("lean", [0.02, 0.05, 0.08])
def test_photograph_from_aside_is_read(lean):
    assert read_share(photographs(4, lean=lean)) == 4


@pytest.mark.long
def test_sixty_photographs_from_aside_are_read(capsys):
    read = read_share(photographs(MANY, lean=0.08))
    with capsys.disabled():
        print(f"\nphotographs from aside: {read} of {MANY} pages read, 0 wrong")  # noqa: T201
    assert read >= BAR * MANY


def ink(dpi=200):
    return scanner.drawn(scanner.printed(NUMBER, 1), dpi)


def dim_and_blurred():
    import cv2

    grey = cv2.GaussianBlur(scanner.flat(ink(), 2), (0, 0), 2.6)
    return (grey * np.float32(0.5)).astype(np.uint8)


def test_blurred_code_is_read_by_trying_harder_and_its_place_is_that_of_the_picture():
    grey = dim_and_blurred()
    assert not codes.find(grey).codes
    found = codes.find_harder(grey)
    assert {code.text for code in found.codes} == {scanner.payload(NUMBER, 1)}
    sharp = codes.find(scanner.flat(ink(), 2)).codes
    places = [code.corners[0] for code in sharp]
    for code in found.codes:
        near = min(abs(code.corners[0].x - x) + abs(code.corners[0].y - y) for x, y in places)
        assert near < 8


@pytest.mark.parametrize("number", range(len(codes.MENDED)))
def test_each_way_of_mending_leaves_a_good_page_readable_at_the_same_place(number):
    mend, scale = codes.MENDED[number]
    grey = scanner.flat(ink())
    plain = codes.find(grey).codes
    found = codes._read(mend(grey), scale).codes
    assert {code.text for code in found} == {code.text for code in plain}
    for one, other in zip(found, plain, strict=True):
        assert one.corners[0] == pytest.approx(other.corners[0], abs=4)


@pytest.mark.parametrize(("wanted", "tries"), [("another", len(codes.MENDED)), ("", 1)])
def test_codes_are_looked_for_until_one_that_is_wanted_shows(wanted, tries, monkeypatch):
    text, tried = scanner.payload(NUMBER, 1), []
    mended = [lambda grey: tried.append(1) or grey for _ in codes.MENDED]
    monkeypatch.setattr(codes, "MENDED", tuple((mend, 1.0) for mend in mended))
    found = codes.find_harder(scanner.coded(NUMBER, 1), lambda one: one == (wanted or text))
    assert ({code.text for code in found.codes}, len(tried)) == ({text}, tries)


def test_page_without_a_code_has_none_and_needs_no_turn():
    grey = scanner.flat(scanner.drawn(scanner.printed(NUMBER, 1), 200)[400:1900])
    assert codes.find(grey).codes == () == codes.find_harder(grey).codes
    assert codes.turn(()) == 0


@pytest.mark.parametrize("degrees", [0, 90, 180, 270])
def test_code_turns_with_its_picture(degrees):
    grey = scanner.flat(ink(), 90)
    height, width = grey.shape
    turned = np.ascontiguousarray(np.rot90(grey, -degrees // 90))
    moved = [codes.turned(code, degrees, width, height) for code in codes.find(grey).codes]
    seen = codes.find(turned).codes
    assert len(moved) == len(seen) == 2
    for one in moved:
        assert min(sum(np.abs(np.array(one.corners) - other.corners).max(0)) for other in seen) < 6
