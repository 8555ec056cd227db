"""What a drawing consists of."""

from relations.referrals.drawing import CODES
from relations.referrals.geometry import Growth


def test_lines_of_the_axis_end_with_the_last_row() -> None:
    assert Growth(CODES, 328, 100, [], [], [], [], [], []).bottom == 100 - CODES.gap
