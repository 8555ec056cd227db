"""The drawings stand in for pictures and papers, are the same everywhere, and show nobody."""

from io import BytesIO

from PIL import Image

from relations.documents import filing
from relations.pictures import light
from relations.today.management import drawings


def opened(content: bytes) -> Image.Image:
    return Image.open(BytesIO(content))


def test_same_code_gives_the_same_drawing_and_another_code_another() -> None:
    assert drawings.portrait("K01", [True]) == drawings.portrait("K01", [True])
    assert drawings.portrait("K01", [True]) != drawings.portrait("K02", [True])
    assert drawings.scan("10003-62", [True]) == drawings.scan("10003-62", [True])
    assert drawings.scan("10003-62", [True]) != drawings.scan("20011-11", [True])


def test_portrait_has_the_shape_of_a_sheet_of_film_with_its_black_edge() -> None:
    sheet = opened(drawings.portrait("G01", [True, False, True]))
    assert sheet.size == (drawings.WIDE + 40, drawings.HIGH + 40)
    inside = sheet.convert("L")
    edge = inside.getpixel((5, drawings.HIGH // 2))
    middle = inside.getpixel((drawings.WIDE // 2, 60))
    assert isinstance(edge, int)
    assert isinstance(middle, int)
    assert edge < 40 < middle


def test_face_is_drawn_only_where_one_is_to_be_seen() -> None:
    assert drawings.portrait("K22", [True]) != drawings.portrait("K22", [False])


def test_scan_is_taken_as_a_scan_and_every_box_holds_one_mark() -> None:
    yes, no = (drawings.scan("70001-03", [tick] * 11) for tick in (True, False))
    for drawn in (yes, no):
        found = filing.inspect(drawn)
        assert (found.media_type, found.pages) == ("image/png", 1)
    assert yes != no


def test_portrait_is_taken_as_a_light_copy() -> None:
    assert light.make(drawings.portrait("K01", [True]))
