"""Slips of prints: made for the envelope and the corner of a print, and read from a photograph.

A slip says one code, in letters and as a square code, and nothing else: no name, no picture, no
group, no word of the project. Whoever finds an envelope learns nothing from it.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from math import dist
from typing import TYPE_CHECKING

from django.db.models import QuerySet
from django.template.loader import render_to_string
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from relations.documents import qr
from relations.documents.codes import Code
from relations.documents.filing import FilingError, inspect
from relations.documents.render import lay_out
from relations.documents.split import look
from relations.languages.codes import PRINT_LENGTH, grouped, is_well_formed, tidy

from . import labels, queries
from .labels import SHEETS, Labels
from .models import Print
from .rules import NEEDS_SLIPS

if TYPE_CHECKING:
    from relations.privacy.models import User

KIND = "prints.slips"


class Where(StrEnum):
    """Where a slip belongs: on the envelope, or at the corner on the back of the print."""

    ENVELOPE = "envelope"
    CORNER = "corner"


BOTH = (Where.ENVELOPE, Where.CORNER)


@dataclass(frozen=True)
class Slip:
    """One slip: the code as it is read aloud and as a square code.

    The two of one print look the same but for a corner drawn on the one that goes there.
    """

    said: str
    picture: str
    is_corner: bool


def waiting(user: "User") -> QuerySet[Print]:
    """The prints that may need slips, for a user who may see them, by code.

    What is not made at the lab stands on no list of the assistant's: the artist sees to it.
    """
    found = queries.prints(user).filter(state__in=NEEDS_SLIPS)
    if not user.is_artist:
        found = found.filter(not_at_the_lab=False)
    return found.order_by("code")


def pdf(codes: Iterable[str], where: Iterable[Where], on: Labels, first: int = 1) -> bytes:
    """Make the PDF of the slips of these prints, the slips of a print beside each other.

    `first` as in `labels.laid`. Its metadata say what it is and of nobody.
    """
    wanted, sheet, language = tuple(where), SHEETS[on], get_language() or "en"
    slips = [_slip(code, place) for code in codes for place in wanted]
    context = {
        "sheets": labels.laid(slips, sheet, first),
        "sheet": sheet,
        "side": qr.SLIP_SIDE_MM,
        "down": (float(sheet.height) - qr.SLIP_SIDE_MM) / 2,
        "language": language,
    }
    html = render_to_string("prints/paper/slips.html", context)
    css = render_to_string("prints/paper/slips.css", context)
    return lay_out(html, lang=language, title=_("Slips"), css=css).content


def _slip(code: str, where: Where) -> Slip:
    return Slip(grouped(code), qr.slip(code), where is Where.CORNER)


def is_slip(text: str) -> bool:
    """Whether the text of a square code is a print's code; that proves nothing."""
    return text == tidy(text) and is_well_formed(text, PRINT_LENGTH)


def read(content: bytes) -> list[str]:
    """The codes of the slips on a photograph, one for each slip that was read, in their order.

    Two slips of one print give its code twice. [] where none was read, or where `content` is no
    picture. Nothing of it is kept.
    """
    try:
        seen = look(inspect(content).clean, is_wanted=is_slip).codes
    except FilingError:
        return []
    return list(_each_once(code for code in seen if is_slip(code.text)))


def _each_once(seen: Iterable[Code]) -> Iterator[str]:
    """A slip that was read twice, on two mended pictures, lies where it lay before."""
    kept: list[Code] = []
    for code in seen:
        if not any(_is_same(code, one) for one in kept):
            kept.append(code)
            yield code.text


def _is_same(one: Code, other: Code) -> bool:
    side = dist(one.corners[0], one.corners[1])
    return one.text == other.text and dist(one.corners[0], other.corners[0]) < side / 2
