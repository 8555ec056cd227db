"""Sizes of prints are exact, whatever people type, and say what is cut off."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.prints import sizes
from relations.prints.sizes import SizeError, fit, in_inches, in_mm, iso_a, read

SIDES = st.fractions(min_value=20, max_value=3000, max_denominator=1000)
SIZES = st.builds(in_mm, SIDES, SIDES)


@pytest.mark.parametrize(
    ("typed", "size"),
    [
        ("8x10 in", in_inches(8, 10)),
        ("8 × 10 in", in_inches(8, 10)),
        ('8×10"', in_inches(8, 10)),
        ("8″ × 10″", in_inches(8, 10)),
        ("8 in x 10 in.", in_inches(8, 10)),
        ("8 X 10 Inches", in_inches(8, 10)),
        ("8 x 10 pouces", in_inches(8, 10)),
        ("8'' x 10''", in_inches(8, 10)),
        ("8 1/2 x 11 in", in_inches(Fraction(17, 2), 11)),
        ("20,3 x 25,4 cm", in_mm(203, 254)),
        ("20.3 x 25.4cm", in_mm(203, 254)),
        ("203 × 254 mm", in_mm(203, 254)),
        ("١٨ × ٢٤ cm", in_mm(180, 240)),
        (" A4 ", in_mm(210, 297)),
        ("a3", in_mm(297, 420)),
    ],
)
def test_size_is_read_as_people_type_it(typed, size):
    assert read(typed) == size


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("", "size_shape"),
        ("small", "size_shape"),
        ("8 in", "size_shape"),
        ("-8 x 10 in", "size_shape"),
        ("8 1/0 x 10 in", "size_shape"),
        ("8 x 10 x 12 in", "size_shape"),
        ("A11", "size_shape"),
        ("A0x", "size_shape"),
        ("8 x 10", "size_unit"),
        ("8 in x 10 cm", "size_unit"),
        ("8 x 10 mm", "size_range"),
        ("0 x 10 in", "size_range"),
        ("800 x 1000 cm", "size_range"),
        ("A8 ", None),
        ("A9", None),
    ],
)
def test_what_is_no_size_is_named(typed, code):
    if code is None:
        assert read(typed)
        return
    with pytest.raises(SizeError) as caught:
        read(typed)
    assert caught.value.code == code


@pytest.mark.parametrize("number", [-1, 11])
def test_there_is_no_other_a_size(number):
    with pytest.raises(ValueError, match=str(number)):
        iso_a(number)


@given(SIZES, SIZES)
def test_a_frame_fills_the_paper_and_only_one_side_is_cut(frame, paper):
    found = fit(frame, paper)
    assert found.cut_across == 0 or found.cut_up == 0
    assert 0 <= found.cut_across < 1
    assert 0 <= found.cut_up < 1
    assert found.is_same_shape == (found.cut_across == found.cut_up == 0)
    lying = frame if frame.is_wide == paper.is_wide or paper.width == paper.height else frame.turned
    seen = lying.width * (1 - found.cut_across), lying.height * (1 - found.cut_up)
    assert (seen[0] * found.scale, seen[1] * found.scale) == (paper.width, paper.height)


@given(SIZES)
def test_inches_and_millimetres_are_the_same_size_to_the_last_figure(size):
    assert in_inches(*size.inches) == size
    assert size.turned.turned == size


@given(SIZES, SIZES)
def test_which_way_the_film_was_held_changes_nothing(frame, paper):
    both = fit(frame, paper), fit(frame.turned, paper)
    assert frame.width == frame.height or both[0] == both[1] or paper.width == paper.height


def test_size_is_written_in_both_measures():
    assert sizes.written(in_inches(8, 10), str) == ("8 × 10", "1016/5 × 254")
