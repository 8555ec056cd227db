"""Slips lie on the labels, none over its edge and none twice on one."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.documents.qr import SLIP_SIDE_MM
from relations.prints.labels import A4, SHEETS, Labels, laid


def test_labels_are_as_large_as_they_are_sold_and_lie_in_the_middle():
    """Sizes of two sheets that every shop has: common practice, no source. 25.4 mm are 1 inch."""
    of_24, of_21 = SHEETS[Labels.OF_24], SHEETS[Labels.OF_21]
    assert (of_24.count, of_24.corner) == (24, (Decimal(0), Decimal("0.5")))
    assert (of_21.count, of_21.corner) == (21, (Decimal("7.25"), Decimal("15.15")))
    assert (of_21.width / Decimal("25.4"), of_21.height / Decimal("25.4")) == (
        Decimal("2.5"),
        Decimal("1.5"),
    )


@pytest.mark.parametrize("kind", Labels)
def test_every_label_of_a_sheet_lies_on_the_paper_and_over_no_other(kind):
    sheet = SHEETS[kind]
    (slips,) = laid(range(sheet.count), sheet)
    assert [one.slip for one in slips] == list(range(sheet.count))
    for one in slips:
        assert 0 <= one.left <= A4[0] - sheet.width
        assert 0 <= one.top <= A4[1] - sheet.height
    for number, one in enumerate(slips):
        for other in slips[number + 1 :]:
            beside = abs(one.left - other.left) >= sheet.width
            assert beside or abs(one.top - other.top) >= sheet.height


@pytest.mark.parametrize("kind", Labels)
def test_square_code_of_a_slip_fits_a_label_with_room_to_stick_it_askew(kind):
    assert SHEETS[kind].height - Decimal(str(SLIP_SIDE_MM)) > 16


@given(st.integers(0, 70), st.sampled_from(Labels), st.data())
def test_slips_go_on_from_the_first_label_that_is_there(count, kind, data):
    sheet = SHEETS[kind]
    first = data.draw(st.integers(1, sheet.count))
    sheets = laid(range(count), sheet, first)
    assert [one.slip for slips in sheets for one in slips] == list(range(count))
    assert len(sheets) == (-(-(count + first - 1) // sheet.count) if count else 0)
    assert all(len(slips) <= sheet.count for slips in sheets)
    if count:
        (whole,) = laid(range(sheet.count), sheet)
        assert (sheets[0][0].left, sheets[0][0].top) == (
            whole[first - 1].left,
            whole[first - 1].top,
        )


@pytest.mark.parametrize("first", [0, 22])
def test_label_that_no_sheet_has_is_an_error(first):
    with pytest.raises(ValueError, match=str(first)):
        laid(["a"], SHEETS[Labels.OF_21], first)
