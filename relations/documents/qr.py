"""The square code on each page of a paper: which paper, which page, and that it is ours."""

import hmac
import re
from base64 import b32encode
from dataclasses import dataclass
from hashlib import sha256

import segno

from . import serials

# Measured on fake scans: module size beats error level for blur and bad light.
VERSION, LEVEL, MODULE_MM, QUIET_ZONE, DOTS = 2, "M", 0.6, 4, 1
# The code itself says under which mask it lies, so that any is read. Looking for the smoothest of
# the eight costs more than all else of a code; over 300 texts of ours it was this one most often.
MASK = 4
SIDE_MM = MODULE_MM * (4 * VERSION + 17 + 2 * QUIET_ZONE)
# A slip says one short code, so that there is room for larger modules and the strongest
# correction: it is photographed from the hand, in whatever light there is.
SLIP_VERSION, SLIP_LEVEL, SLIP_MODULE_MM = 1, "H", 0.7
SLIP_SIDE_MM = SLIP_MODULE_MM * (4 * SLIP_VERSION + 17 + 2 * QUIET_ZONE)
MAC_CHARACTERS = 8
_SHAPE = re.compile(
    r"(?P<kind>[A-Z])/(?P<serial>[0-9]{5}-[0-9]{2})/(?P<page>[1-9][0-9]?)"
    r"/(?P<version>[A-Z0-9]{1,4})/(?P<mac>[A-Z2-7]{8})"
)


class ForeignCodeError(ValueError):
    """A code that this site did not print; `code` is "shape", "serial" or "mac"."""

    def __init__(self, code: str) -> None:
        """Keep the code; the page holds the words."""
        super().__init__(code)
        self.code = code


@dataclass(frozen=True)
class PageCode:
    """What one square code says; nothing personal, and the serial carries no meaning."""

    kind: str
    serial: str
    page: int
    version: str

    def __str__(self) -> str:
        """Write the part that the check covers: F/70042-74/1/A7."""
        return f"{self.kind}/{self.serial}/{self.page}/{self.version}"


def _mac(text: str, key: bytes) -> str:
    """Give 40 bits of HMAC-SHA-256 (RFC 2104) in base 32 (RFC 4648): eight characters."""
    return b32encode(hmac.digest(key, text.encode("ascii"), sha256))[:MAC_CHARACTERS].decode()


def payload(kind: str, serial: str, page: int, version: str, *, key: bytes) -> str:
    """Give the text of a code: F/70042-74/1/A7/ and eight characters only `key` can make.

    `kind` is one capital letter (F form), `page` 1-99, `version` up to four capital letters or
    digits. Raises ValueError for anything else: such a code could not be read back.
    """
    text = str(PageCode(kind, serial, page, version))
    whole = f"{text}/{_mac(text, key)}"
    read_payload(whole, key=key)
    return whole


def has_our_shape(text: str) -> bool:
    """Whether a code could be one of ours: a shape, which proves nothing."""
    return _SHAPE.fullmatch(text) is not None


def read_payload(text: str, *, key: bytes) -> PageCode:
    """Read the text of a scanned code; ForeignCodeError names the first thing that does not fit."""
    match = _SHAPE.fullmatch(text)
    if match is None:
        raise ForeignCodeError("shape")
    try:
        serials.read_serial(match["serial"])
    except serials.SerialError:
        raise ForeignCodeError("serial") from None
    code = PageCode(match["kind"], match["serial"], int(match["page"]), match["version"])
    if not hmac.compare_digest(match["mac"], _mac(str(code), key)):
        raise ForeignCodeError("mac")
    return code


def picture(text: str) -> str:
    """Draw a code as a data: address of a black and white PNG, one dot a module.

    It is `SIDE_MM` wide on paper with its quiet zone. Version 2-M holds 38 alphanumeric
    characters (ISO/IEC 18004); a longer text is an error. As a picture it costs a page a tenth
    of what the same code costs as drawn lines.
    """
    return _drawn(text, VERSION, LEVEL)


def slip(text: str) -> str:
    """Draw the code of a slip in the same way, `SLIP_SIDE_MM` wide with its quiet zone.

    Version 1-H holds 10 alphanumeric characters (ISO/IEC 18004); a longer text is an error.
    """
    return _drawn(text, SLIP_VERSION, SLIP_LEVEL)


def _drawn(text: str, version: int, level: str) -> str:
    code = segno.make(
        text,
        version=version,
        error=level,
        mask=MASK,
        mode="alphanumeric",
        boost_error=False,
        micro=False,
    )
    return str(code.png_data_uri(scale=DOTS, border=QUIET_ZONE))
