"""QR capacities of ISO/IEC 18004, published table against the library that draws our codes.

The table is the standard's as printed in many places; the standard's own text was not opened
(checks.md 6: found there by search with segno, here written from that table).
"""

import pytest
import segno

# version: {level: (digits, alphanumeric characters, bytes)}
TABLE = {
    1: {"L": (41, 25, 17), "M": (34, 20, 14), "Q": (27, 16, 11), "H": (17, 10, 7)},
    2: {"L": (77, 47, 32), "M": (63, 38, 26), "Q": (48, 29, 20), "H": (34, 20, 14)},
    3: {"L": (127, 77, 53), "M": (101, 61, 42), "Q": (77, 47, 32), "H": (58, 35, 24)},
    4: {"L": (187, 114, 78), "M": (149, 90, 62), "Q": (111, 67, 46), "H": (82, 50, 34)},
    5: {"L": (255, 154, 106), "M": (202, 122, 84), "Q": (144, 87, 60), "H": (106, 64, 44)},
    10: {"L": (652, 395, 271), "M": (513, 311, 213), "Q": (364, 221, 151), "H": (288, 174, 119)},
}
MODES = {"numeric": "7", "alphanumeric": "A", "byte": "a"}
ROWS = [
    (version, level, mode, room)
    for version, levels in TABLE.items()
    for level, rooms in levels.items()
    for mode, room in zip(MODES, rooms, strict=True)
]


@pytest.mark.parametrize("version, level, mode, room", ROWS)
def test_capacity_is_the_published_one(version, level, mode, room):
    def make(length: int) -> segno.QRCode:
        text = MODES[mode] * length
        return segno.make(
            text, version=version, error=level, mode=mode, boost_error=False, micro=False
        )

    assert make(room).designator == f"{version}-{level}"
    with pytest.raises(segno.DataOverflowError):
        make(room + 1)


@pytest.mark.parametrize("version", TABLE)
def test_side_is_four_modules_a_version_and_seventeen(version):
    code = segno.make("A", version=version, error="M", boost_error=False, micro=False)
    assert code.symbol_size(border=0) == (4 * version + 17,) * 2
