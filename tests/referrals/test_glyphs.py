"""Widths from the table, against the letters of a real font."""

from collections.abc import Callable
from pathlib import Path

import fontpkg_mukta
import pytest
from PIL import ImageFont

from relations.referrals.glyphs import width

NOTO = Path("/usr/share/fonts/truetype/noto/NotoSans-Regular.ttf")
TEXTS = ("Anne-Lise Quérinou", "Maria das Dores Fortes-Lima", "Zoé", "also 05, 17", "WMwm ilj")


def measured(path: Path) -> Callable[[str], float]:
    font = ImageFont.truetype(str(path), 100)
    return lambda text: font.getlength(text) / 100


@pytest.mark.parametrize("text", TEXTS)
def test_width_is_within_a_tenth_of_the_font_it_was_read_from(text: str) -> None:
    if not NOTO.exists():
        pytest.skip("Noto Sans is not on this machine")
    assert width(text, 1) == pytest.approx(measured(NOTO)(text), rel=0.1)


@pytest.mark.parametrize("text", [*TEXTS, "দাউদ ওলিউল্লাহ", "सीता तामाङ"])
def test_no_text_is_wider_in_the_face_of_our_papers(text: str) -> None:
    """Bold, since that is the widest; Bengali letters of that package fall back to nothing."""
    face = Path(fontpkg_mukta.ROOT) / "files" / "Mukta-Bold.ttf"
    assert measured(face)(text) <= width(text, 1, is_bold=True)


def test_a_letter_with_marks_is_as_wide_as_the_letter() -> None:
    assert width("é", 10) == width("e", 10) == width("e\u0301", 10)
    assert width("ক্ষ", 10) == width("কষ", 10)


def test_letters_of_no_table_are_counted_wide_and_squares_fill_a_square() -> None:
    assert width("Ж", 10) == pytest.approx(6.6)
    assert width("陳", 10) == pytest.approx(10)
    assert width("", 10) == 0


def test_bold_is_a_tenth_wider() -> None:
    assert width("Bo", 10, is_bold=True) == pytest.approx(1.1 * width("Bo", 10))
