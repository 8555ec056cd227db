"""A stack taken apart: pages kept as they came, seen upright, with the places of their codes."""

from io import BytesIO

import cv2
import numpy as np
import pikepdf
import pytest

from relations.documents import filing, split
from relations.documents.qr import SIDE_MM
from relations.documents.split import Stack, look
from tests.documents import scanner

NUMBER = 70_042


def ink(page=1, dpi=200):
    return scanner.drawn(scanner.printed(NUMBER, page), dpi)


def texts(seen):
    return {code.text for code in seen.codes}


@pytest.mark.parametrize(("angle", "turn"), [(0, 0), (90, 90), (180, 180), (-90, 270), (3, 0)])
def test_page_is_looked_at_upright_and_says_by_how_much_it_was_turned(angle, turn):
    seen = look(scanner.pdf([scanner.flat(ink(), angle)]))
    assert (seen.turn, texts(seen)) == (turn, {scanner.payload(NUMBER, 1)})
    assert seen.grey.shape[0] > seen.grey.shape[1]
    above, below = sorted(seen.codes, key=lambda code: code.corners[0].y)
    assert above.corners[0].y < seen.grey.shape[0] / 3 < below.corners[0].y
    assert (seen.is_blank, seen.is_torn) == (False, False)


def test_corners_lie_on_the_code_at_the_resolution_that_is_given():
    seen = look(scanner.pdf([scanner.flat(ink(), 180)]))
    assert seen.dpi == pytest.approx(200, abs=1)
    code = min(seen.codes, key=lambda one: one.corners[0].y)
    left_upper, right_upper, right_lower, left_lower = code.corners
    # 25 modules of 33: four of each side are the quiet zone.
    side = SIDE_MM * 25 / 33 / 25.4 * seen.dpi
    assert right_upper.x - left_upper.x == pytest.approx(side, abs=4)
    assert left_lower.y - left_upper.y == pytest.approx(side, abs=4)
    found = seen.grey[int(left_upper.y) + 2, int(left_upper.x) + 2]
    assert found < 90, "the dark corner of the code"
    assert (right_lower.x, right_lower.y) == pytest.approx((right_upper.x, left_lower.y), abs=4)


def test_page_that_is_no_single_picture_is_drawn():
    seen = look(scanner.printed(NUMBER, 2))
    assert (texts(seen), seen.dpi) == ({scanner.payload(NUMBER, 2)}, split.LOOK_DPI)
    assert seen.grey.dtype == np.uint8 and seen.grey.shape == pytest.approx((2339, 1654), abs=2)


def test_page_that_says_it_lies_on_its_side_is_seen_as_a_reader_shows_it():
    with pikepdf.open(BytesIO(scanner.pdf([scanner.flat(ink())]))) as document:
        document.pages[0].rotate(90, relative=False)
        out = BytesIO()
        document.save(out)
    seen = look(out.getvalue())
    assert (seen.turn, texts(seen)) == (270, {scanner.payload(NUMBER, 1)})


def test_photograph_is_looked_at_with_all_its_dots():
    seen = look(scanner.jpeg(scanner.photographed(ink(), seed=3), 85))
    assert texts(seen) == {scanner.payload(NUMBER, 1)}
    assert seen.grey.shape == scanner.photographed(ink(), seed=3).shape


def test_page_too_large_to_be_held_is_drawn_smaller(monkeypatch):
    monkeypatch.setattr(split, "LARGEST_LOOK", 400_000)
    seen = look(scanner.pdf([scanner.flat(ink())]))
    assert seen.grey.size <= 410_000
    assert seen.dpi < 100


@pytest.mark.parametrize("seed", range(6))
def test_sheet_with_nothing_on_it_is_blank_however_grey(seed):
    shade = np.linspace(1, 0.8, scanner.blank().shape[1])[None, :]
    sheet = (scanner.blank(seed=seed) * shade).astype(np.uint8)
    seen = look(scanner.pdf([sheet], 150))
    assert (seen.is_blank, seen.codes, seen.is_torn) == (True, (), False)


def test_one_word_in_pencil_is_not_blank():
    sheet = scanner.blank()
    cv2.putText(sheet, "oui", (500, 800), cv2.FONT_HERSHEY_SCRIPT_SIMPLEX, 2, 150, 2)
    assert not look(scanner.pdf([sheet], 150)).is_blank


def test_code_that_is_covered_is_counted_as_torn_or_not_seen_but_never_read():
    for cover in range(0, 140, 20):
        sheet = ink().copy()
        for code in look(scanner.pdf([sheet])).codes:
            x, y = (int(side) for side in code.corners[0])
            sheet[y + 20 : y + 60 + cover, x - 20 : x + 150] = 30
        seen = look(scanner.pdf([sheet]))
        assert texts(seen) <= {scanner.payload(NUMBER, 1)}
        assert not seen.is_blank


def test_pages_are_taken_in_the_order_asked_and_not_compressed_anew():
    pictures = [scanner.flat(ink(1)), scanner.flat(ink(2), 180)]
    content = scanner.pdf(pictures)
    with Stack(content) as stack:
        taken = stack.take([(2, 180), (1, 0)])
        assert taken == stack.take([(2, 180), (1, 0)])
        assert len(stack) == 2
    with pikepdf.open(BytesIO(taken)) as document:
        first, _second = document.pages
        assert first.obj.Rotate == 180
        (raw,) = [picture.read_raw_bytes() for picture in first.Resources.XObject.values()]
        assert raw == scanner.jpeg(pictures[1])
    assert [look(taken, page).turn for page in (1, 2)] == [0, 0]


def test_page_is_taken_out_and_the_others_keep_their_numbers():
    content = scanner.pdf([scanner.flat(ink(1)), scanner.flat(ink(2))])
    with Stack(content) as stack:
        left = stack.without([1])
    assert look(left, 1).is_blank
    assert texts(look(left, 2)) == {scanner.payload(NUMBER, 2)}
    assert len(left) < len(content) * 0.6, "its bytes are gone as well"


def test_page_that_is_not_there_is_not_looked_at():
    with pytest.raises(IndexError):
        look(scanner.pdf([scanner.blank()]), 2)
    with pytest.raises(filing.FilingError) as caught:
        look(b"%PDF-1.7 and then nothing")
    assert caught.value.code == "broken"


def test_page_is_known_again_in_another_file_and_by_what_it_shows_alone():
    one, two = (scanner.pdf([scanner.flat(ink(page))]) for page in (1, 2))
    both = scanner.pdf([scanner.flat(ink(1)), scanner.flat(ink(2))])
    with Stack(one) as first, Stack(two) as second, Stack(both) as stack:
        assert [stack.digest(1), stack.digest(2)] == [first.digest(1), second.digest(1)]
        assert first.digest(1) != second.digest(1)
        with Stack(stack.take([(2, 0), (2, 180)])) as again:
            assert again.digest(1) == second.digest(1) != again.digest(2)
