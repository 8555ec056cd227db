"""Takes out of a picture file all that it says beside its pixels, without touching a pixel.

What stays: the pixels as they are compressed, the colour profile, the pixels an inch, and how the
picture lies. What goes: camera, place, hours, names, comments, small copies, and what is hung on
behind. Sources: ITU-T T.81 annex B (JPEG), PNG 3rd edition, the RIFF container of WebP; from
memory, read back by exiftool and exiv2 in the tests.
"""

import struct
from collections.abc import Iterator
from io import BytesIO

from PIL import Image

JPEG, PNG, WEBP = b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"RIFF"
ENDINGS = {JPEG: "jpg", PNG: "png", WEBP: "webp"}
# JPEG markers: start of scan, end of image, application 0 to 15, comment.
SOS, EOI, APP0, APP1, APP2, APP14, APP15, COM = 0xDA, 0xD9, 0xE0, 0xE1, 0xE2, 0xEE, 0xEF, 0xFE
ICC, JFIF, ADOBE, EXIF = b"ICC_PROFILE\0", b"JFIF\0", b"Adobe", b"Exif\0\0"
JFIF_LENGTH = 14
PNG_KEPT = set(b"IHDR PLTE tRNS IDAT IEND gAMA cHRM sRGB iCCP pHYs".split())
WEBP_KEPT = {b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM", b"ANMF", b"ICCP"}
# Bits of VP8X that say that EXIF and XMP follow.
WEBP_SAYS = 0x08 | 0x04
ORIENTATION, UPRIGHT, LARGEST_ORIENTATION = 0x0112, 1, 8


class StripError(ValueError):
    """A file that cannot be cleaned; `code` is "not_a_picture" or "broken"."""

    def __init__(self, code: str) -> None:
        """Keep the code; the page holds the words."""
        super().__init__(code)
        self.code = code


def ending(content: bytes) -> str:
    """Give the ending of a file name by the first bytes: jpg, png or webp; else raises."""
    for begins, name in ENDINGS.items():
        if content.startswith(begins):
            return name
    raise StripError("not_a_picture")


def stripped(content: bytes) -> bytes:
    """Give the same picture with nothing in it but the picture.

    Raises StripError: "not_a_picture" for anything but JPEG, PNG and WebP, "broken" for a file
    that ends too early or is not what it begins as.
    """
    work = {"jpg": _jpeg, "png": _png, "webp": _webp}[ending(content)]
    try:
        return work(content)
    except (struct.error, IndexError) as error:
        raise StripError("broken") from error


def _jpeg(content: bytes) -> bytes:
    clean = BytesIO()
    clean.write(b"\xff\xd8")
    turn = _orientation(content)
    has_lain = False
    for marker, whole in _segments(content):
        kept = _kept(marker, whole)
        if marker != APP0 and not has_lain:
            # How the picture lies comes straight after the head, or stands nowhere.
            clean.write(_lies(turn))
            has_lain = True
        clean.write(kept)
    return clean.getvalue()


def _segments(content: bytes) -> Iterator[tuple[int, bytes]]:
    """The parts of a JPEG behind its first two bytes, up to its end; what is behind that is not."""
    at = 2
    while True:
        while content[at] == 0xFF and content[at + 1] == 0xFF:
            at += 1
        if content[at] != 0xFF:
            raise StripError("broken")
        marker = content[at + 1]
        if marker == EOI:
            yield marker, content[at : at + 2]
            return
        end = at + 2 + struct.unpack_from(">H", content, at + 2)[0]
        if marker == SOS:
            end = _scan_end(content, end)
        if end > len(content):
            raise StripError("broken")
        yield marker, content[at:end]
        at = end


def _scan_end(content: bytes, at: int) -> int:
    """Where the pixels of a scan end: at the first marker that is no restart and no stuffing."""
    while True:
        at = content.find(b"\xff", at)
        if at < 0:
            raise StripError("broken")
        if content[at + 1] != 0 and not 0xD0 <= content[at + 1] <= 0xD7:
            return at
        at += 2


def _kept(marker: int, whole: bytes) -> bytes:
    """A part as it may stay; b"" where it goes."""
    said = whole[4:]
    if marker == APP0 and said.startswith(JFIF):
        # Without the small copy that may follow.
        head = said[: JFIF_LENGTH - 2] + b"\0\0"
        return b"\xff\xe0" + struct.pack(">H", len(head) + 2) + head
    if (marker, said[: len(ICC)]) == (APP2, ICC) or (marker, said[: len(ADOBE)]) == (APP14, ADOBE):
        return whole
    return b"" if APP0 <= marker <= APP15 or marker == COM else whole


def _orientation(content: bytes) -> int:
    """How the picture lies, 1 to 8; upright where nothing or nonsense is said.

    Only the part that says so is read: a whole sheet of film has more pixels than the library
    opens before it fears a bomb.
    """
    said = next((whole[4:] for _, whole in _segments(content) if whole[4:].startswith(EXIF)), b"")
    exif = Image.Exif()
    try:
        exif.load(said)
        turn = exif.get(ORIENTATION, UPRIGHT)
    except (OSError, SyntaxError, ValueError, struct.error) as error:
        raise StripError("broken") from error
    return turn if turn in range(UPRIGHT, LARGEST_ORIENTATION + 1) else UPRIGHT


def _lies(turn: int) -> bytes:
    """The one thing that is still said: how it lies, as Exif with this line alone."""
    if turn == UPRIGHT:
        return b""
    tiff = b"II*\0" + struct.pack("<IHHHIHHI", 8, 1, ORIENTATION, 3, 1, turn, 0, 0)
    said = EXIF + tiff
    return b"\xff\xe1" + struct.pack(">H", len(said) + 2) + said


def _png(content: bytes) -> bytes:
    clean = BytesIO()
    clean.write(PNG)
    at, kind = len(PNG), b""
    while kind != b"IEND":
        (length,) = struct.unpack_from(">I", content, at)
        kind, end = content[at + 4 : at + 8], at + 12 + length
        if end > len(content):
            raise StripError("broken")
        if kind in PNG_KEPT:
            clean.write(content[at:end])
        at = end
    return clean.getvalue()


def _webp(content: bytes) -> bytes:
    if content[8:12] != b"WEBP":
        raise StripError("not_a_picture")
    body = BytesIO()
    at, end = 12, 8 + struct.unpack_from("<I", content, 4)[0]
    if end > len(content):
        raise StripError("broken")
    while at < end:
        kind, (length,) = content[at : at + 4], struct.unpack_from("<I", content, at + 4)
        whole = content[at : at + 8 + length + length % 2]
        if kind == b"VP8X":
            whole = whole[:8] + bytes([whole[8] & ~WEBP_SAYS]) + whole[9:]
        if kind in WEBP_KEPT:
            body.write(whole)
        at += 8 + length + length % 2
    said = b"WEBP" + body.getvalue()
    return b"RIFF" + struct.pack("<I", len(said)) + said
