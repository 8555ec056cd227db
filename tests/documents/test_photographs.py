"""Pictures become pages of a PDF: the picture itself, its size, and nothing a camera wrote."""

from io import BytesIO

import pikepdf
import pytest
from PIL import Image

from relations.documents import filing
from relations.documents.photographs import as_pdf
from relations.documents.split import look
from tests.documents import scanner

NUMBER = 70_042


def ink(page=1):
    return scanner.drawn(scanner.printed(NUMBER, page), 200)


def saved(picture, name, **how):
    out = BytesIO()
    picture.save(out, format=name, **how)
    return out.getvalue()


def sizes(content):
    with pikepdf.open(BytesIO(content)) as document:
        return [tuple(round(float(side)) for side in page.mediabox[2:]) for page in document.pages]


@pytest.mark.parametrize("mode", ["1", "L", "RGB", "RGBA", "P", "CMYK", "LA"])
def test_picture_of_any_colours_becomes_a_page_that_can_be_read(mode):
    # Grain where a scanner knows no colours; packing it in every other mode took most of the time.
    noise = 8 if mode in {"1", "L"} else 0
    picture = Image.fromarray(scanner.flat(ink(), noise=noise)).convert("RGB").convert(mode)
    found = filing.inspect(saved(picture, "TIFF" if mode == "CMYK" else "PNG", dpi=(200, 200)))
    assert {code.text for code in look(found.clean).codes} == {scanner.payload(NUMBER, 1)}


def test_page_is_as_large_as_the_scanner_said():
    sheet = Image.fromarray(scanner.flat(ink()))
    assert sizes(as_pdf(saved(sheet, "PNG", dpi=(200, 200)))) == [(595, 842)]


def test_photograph_fills_a_sheet_whatever_its_camera_said():
    for how in ({}, {"dpi": (72, 72)}, {"dpi": (300, 200)}):
        photo = saved(Image.new("RGB", (3000, 4000), "white"), "JPEG", **how)
        assert sizes(as_pdf(photo)) == [(631, 842)]


def test_picture_of_several_frames_becomes_as_many_pages():
    frames = [Image.fromarray(scanner.flat(ink(page))) for page in (1, 2)]
    how = {"save_all": True, "append_images": frames[1:], "dpi": (200, 200)}
    found = filing.inspect(saved(frames[0], "TIFF", **how))
    content = as_pdf(found.clean)
    assert found.pages == len(sizes(content)) == 2
    for page in (1, 2):
        codes = look(content, page).codes
        assert {code.text for code in codes} == {scanner.payload(NUMBER, page)}


def test_photograph_lies_in_the_page_byte_for_byte_and_without_a_place():
    exif = Image.Exif()
    exif[0x8825] = {1: "N", 2: (43.0, 17.0, 47.0), 3: "E", 4: (5.0, 22.0, 12.0)}
    exif[0x0110] = "Telephone of somebody"
    sent = saved(Image.new("RGB", (40, 30), "white"), "JPEG", exif=exif)
    clean = filing.inspect(sent).clean
    content = as_pdf(clean)
    assert clean in content and content == as_pdf(clean)
    assert b"Exif" not in content and b"Telephone" not in content


def test_pdf_stays_as_it_is():
    content = scanner.printed(NUMBER, 1)
    assert as_pdf(content) is content
