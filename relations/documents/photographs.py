"""Photographs and scans that are pictures, as pages of a PDF: the picture itself, never redone."""

import zlib
from io import BytesIO

import pikepdf
from PIL import Image

from . import filing

# The long side of an A3 sheet in inches; a picture that says it is larger came from a camera.
LARGEST_PAGE = 16.6
# Such a picture is laid on an A4 page, by its long side.
A4_LONG = 11.69
JPEG = b"\xff\xd8\xff"
COLOURS = {"L": pikepdf.Name.DeviceGray, "RGB": pikepdf.Name.DeviceRGB}


def as_pdf(content: bytes) -> bytes:
    """A PDF as it is; of a picture that `filing.inspect` cleaned, a PDF with a page a frame.

    A JPEG lies in it byte for byte, other pictures packed without loss. Nothing that a camera
    wrote beside the picture comes along. The same picture gives the same bytes.
    """
    if b"%PDF-" in content[: filing.PDF_BEGINS_WITHIN]:
        return content
    document = pikepdf.new()
    with Image.open(BytesIO(content)) as image:
        for frame in range(getattr(image, "n_frames", 1)):
            image.seek(frame)
            _lay(document, image, content)
    out = BytesIO()
    document.save(out, deterministic_id=True)
    document.close()
    return out.getvalue()


def _lay(document: pikepdf.Pdf, image: Image.Image, content: bytes) -> None:
    """Add one page as large as its picture."""
    scale = filing.POINTS_PER_INCH / _dots_per_inch(image)
    width, height = image.width * scale, image.height * scale
    page = document.add_blank_page(page_size=(width, height))
    # A name of its own choice would be another one each time.
    name = pikepdf.Name("/Picture")
    page.add_resource(_drawing(document, image, content), pikepdf.Name.XObject, name)
    page.contents_add(f"q {width:.4f} 0 0 {height:.4f} 0 0 cm {name} Do Q".encode())


def _dots_per_inch(image: Image.Image) -> float:
    """What a scanner says of its picture; where a camera says nothing, as if it filled A4."""
    longest = max(image.size)
    said = image.info.get("dpi", (0, 0))
    dots = float(said[0]) if said and said[0] == said[1] else 0.0
    if dots > 1 and longest / dots <= LARGEST_PAGE:
        return dots
    return longest / A4_LONG


def _drawing(document: pikepdf.Pdf, image: Image.Image, content: bytes) -> pikepdf.Stream:
    if content.startswith(JPEG) and image.mode in COLOURS:
        return _stream(document, image, content, "/DCTDecode")
    plain = image if image.mode in COLOURS else image.convert(_mode(image))
    return _stream(document, plain, zlib.compress(plain.tobytes(), 6), "/FlateDecode")


def _mode(image: Image.Image) -> str:
    """Black and white stays grey; anything with colours becomes plain colours, on white."""
    return "L" if image.mode in ("1", "L", "LA", "I;16") else "RGB"


def _stream(document: pikepdf.Pdf, image: Image.Image, packed: bytes, how: str) -> pikepdf.Stream:
    return pikepdf.Stream(
        document,
        packed,
        Type=pikepdf.Name.XObject,
        Subtype=pikepdf.Name.Image,
        Width=image.width,
        Height=image.height,
        ColorSpace=COLOURS[image.mode],
        BitsPerComponent=8,
        Filter=pikepdf.Name(how),
    )
