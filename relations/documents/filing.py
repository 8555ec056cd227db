"""What an upload is: opened for real, told apart by its bytes, freed of what a camera adds."""

import hashlib
import threading
import warnings
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from typing import Any

import pikepdf
import pypdfium2
from django.db import IntegrityError, transaction
from PIL import Image, ImageFile, UnidentifiedImageError

from relations.privacy.files import scans
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import traps
from .models import Scan, Sheet
from .traps import LARGEST_PIXELS as LARGEST_PIXELS
from .traps import FilingError as FilingError
from .traps import pixels as pixels

LARGEST_BYTES = 25 * 1024 * 1024
# A stack is a working day's paper; more pages than that in one file are a trap.
MOST_PAGES = 1000
# Pillow refuses at twice its own limit of 89 megapixels, which is below ours.
Image.MAX_IMAGE_PIXELS = LARGEST_PIXELS
# A page is looked at as a scanner would give it.
DOTS_PER_INCH = 300
POINTS_PER_INCH = 72

PDF = "application/pdf"
# What the bytes begin with (WebP: RIFF, four bytes of length, WEBP), and what Pillow calls it.
IMAGES = {
    b"\xff\xd8\xff": ("image/jpeg", "JPEG"),
    b"\x89PNG\r\n\x1a\n": ("image/png", "PNG"),
    b"II*\x00": ("image/tiff", "TIFF"),
    b"MM\x00*": ("image/tiff", "TIFF"),
    b"RIFF": ("image/webp", "WEBP"),
}
# What a picture must keep to be shown as it was: nothing of when, where and by which machine.
KEPT = ("icc_profile", "dpi", "transparency")
# Loss only where the format has no other way.
HOW: dict[str, dict[str, Any]] = {
    "JPEG": {"quality": 92, "subsampling": 0},
    "PNG": {},
    "TIFF": {"compression": "tiff_deflate"},
    "WEBP": {"lossless": True},
}
# EXIF's own number for how the camera was held, and what puts each value right.
ORIENTATION = 0x0112
TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
# Files begin with a few stray bytes at times; readers look this far for the mark of a PDF.
PDF_BEGINS_WITHIN = 1024


# The engine that draws PDFs knows no threads: whoever uses it holds this.
drawing = threading.Lock()


@dataclass(frozen=True)
class Inspected:
    """One upload as it may be kept: `digest` is of the bytes as they were sent, in hex.

    `clean` are the bytes to seal: an image without what a camera wrote into it, a PDF without
    its particulars and without anything that runs or is attached.
    """

    media_type: str
    pages: int
    digest: str
    clean: bytes


def inspect(content: bytes, *, largest: int = LARGEST_BYTES) -> Inspected:
    """Tell what `content` is, by its bytes and never by its name, and clean it.

    Raise FilingError: "too_large" beyond `largest` bytes (25 MB), "too_many_pixels" beyond 200
    megapixels (a PDF's largest page at 300 dpi, or a picture on it), "empty" for no bytes at all,
    "not_a_scan" for what is no JPEG, PNG, TIFF, WebP or PDF, "locked" for a PDF that asks for a
    password, "no_pages" for one without any, "too_many_pages" beyond 1,000, "broken" for what does
    not open to its end, or only to far more than any paper holds.
    """
    if not content:
        raise FilingError("empty")
    if len(content) > largest:
        raise FilingError("too_large")
    digest = hashlib.sha256(content).hexdigest()
    if b"%PDF-" in content[:PDF_BEGINS_WITHIN]:
        pages, clean = _pdf(content)
        return Inspected(PDF, pages, digest, clean)
    for begins, (media_type, name) in IMAGES.items():
        if content.startswith(begins):
            pages, clean = _image(content, name)
            return Inspected(media_type, pages, digest, clean)
    raise FilingError("not_a_scan")


def _image(content: bytes, name: str) -> tuple[int, bytes]:
    """How many frames the image has, and the image without EXIF, GPS, XMP and comments."""
    # The layout engine lets cut images pass, and says so for the whole process.
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        with warnings.catch_warnings():
            # Pixels are counted below, before one is read; a damaged note of a camera goes anyway.
            warnings.simplefilter("ignore")
            # Only the reader that the first bytes call for: never one that runs a program.
            with Image.open(BytesIO(content), formats=[name]) as image:
                return _frames(image, name)
    except Image.DecompressionBombError as error:
        raise FilingError("too_many_pixels") from error
    except FilingError:
        raise
    except UnidentifiedImageError as error:
        # RIFF is the beginning of sounds and films too.
        raise FilingError("not_a_scan" if name == "WEBP" else "broken") from error
    except (OSError, SyntaxError, ValueError, EOFError) as error:
        raise FilingError("broken") from error


def _frames(image: Image.Image, name: str) -> tuple[int, bytes]:
    """The pages of a TIFF, or the one picture of any other image, drawn anew."""
    pages = _count_frames(image) if name == "TIFF" else 1
    if image.width * image.height * pages > LARGEST_PIXELS:
        raise FilingError("too_many_pixels")
    frames = []
    for page in range(pages):
        image.seek(page)
        frames.append(_upright(image))
    kept = {key: image.info[key] for key in KEPT if key in image.info}
    if pages > 1:
        kept |= {"save_all": True, "append_images": frames[1:]}
    clean = BytesIO()
    frames[0].save(clean, format=name, **kept, **HOW[name])
    return pages, clean.getvalue()


def _count_frames(image: Image.Image) -> int:
    """How many pages a TIFF has; to count a million of them would take minutes."""
    for page in range(1, MOST_PAGES + 1):
        try:
            image.seek(page)
        except EOFError:
            image.seek(0)
            return page
    raise FilingError("too_many_pages")


def _upright(image: Image.Image) -> Image.Image:
    """The pixels alone, turned as the camera said: the note that said so is left behind."""
    turn = TURNS.get(image.getexif().get(ORIENTATION, 1))
    turned = image if turn is None else image.transpose(turn)
    bare = Image.new(turned.mode, turned.size)
    if palette := turned.getpalette():
        bare.putpalette(palette)
    bare.paste(turned)
    return bare


def _pdf(content: bytes) -> tuple[int, bytes]:
    """How many pages the PDF has, and the PDF without particulars, scripts and attachments."""
    try:
        with pikepdf.open(BytesIO(content)) as document:
            if document.is_encrypted and not document.user_password_matched:
                raise FilingError("locked")
            if not document.pages:
                raise FilingError("no_pages")
            if len(document.pages) > MOST_PAGES:
                raise FilingError("too_many_pages")
            traps.look_for(document)
            pages = _look_at_pages(content)
            _strip(document)
            clean = BytesIO()
            # A fixed identity: the same upload gives the same bytes.
            document.save(clean, deterministic_id=True)
    except pikepdf.PasswordError as error:
        raise FilingError("locked") from error
    except (pikepdf.PdfError, pypdfium2.PdfiumError) as error:
        raise FilingError("broken") from error
    return pages, clean.getvalue()


def _look_at_pages(content: bytes) -> int:
    """Open every page with a reader of its own; a PDF that opens but shows nothing is broken."""
    with drawing:
        document = pypdfium2.PdfDocument(content)
        try:
            for page in document:
                width, height = page.get_size()
                page.close()
                if width * height * (DOTS_PER_INCH / POINTS_PER_INCH) ** 2 > LARGEST_PIXELS:
                    raise FilingError("too_many_pixels")
            return len(document)
        finally:
            document.close()


def _strip(document: pikepdf.Pdf) -> None:
    """Take out who made it and when, and all that would run or fetch when it is opened."""
    if "/Info" in document.trailer:
        del document.trailer["/Info"]
    for key in ("/Metadata", "/OpenAction", "/AA", "/Names", "/AcroForm", "/AF", "/PieceInfo"):
        if key in document.Root:
            del document.Root[key]
    for page in document.pages:
        for key in ("/AA", "/Annots", "/Metadata", "/PieceInfo", "/AF"):
            if key in page:
                del page[key]


@transaction.atomic
def file(*, sheet: Sheet, found: Inspected, by: User, at: datetime) -> Scan:
    """Seal a scan under a paper; the same file sent twice is kept once.

    Refused with "filed_under_another" where the very file lies under another paper already.
    """
    known = Scan.objects.filter(digest=found.digest).first()
    if known is not None:
        if known.sheet_id != sheet.pk:
            raise Refused("filed_under_another")
        return known
    storage = scans()
    key = storage.save(found.clean)
    try:
        with transaction.atomic():
            return Scan.objects.create(
                sheet=sheet,
                file=key,
                media_type=found.media_type,
                digest=found.digest,
                size=len(found.clean),
                pages=found.pages,
                filed_at=at,
                filed_by=by,
            )
    except IntegrityError:
        # Somebody sent the same file in the same moment: theirs is kept.
        storage.delete(key)
        return file(sheet=sheet, found=found, by=by, at=at)


def content(scan: Scan) -> bytes:
    """The clear bytes of a scan, opened to their end; whoever calls leaves a line in the log."""
    with scans().open(scan.file) as opened:
        return bytes(opened.read())
