"""What is carried to the lab: a slip by codes only, and picture files that say nothing else."""

import hashlib
import secrets
from collections.abc import Mapping
from datetime import datetime
from io import BytesIO
from zipfile import ZipFile, ZipInfo

from django.db import transaction

from relations.documents import qr, serials
from relations.documents.models import Sheet
from relations.documents.one_language import lay_out_in
from relations.documents.render import LaidOut
from relations.documents.values import LETTERS, PaperKind
from relations.pictures.models import Picture
from relations.pictures.queries import light_copy
from relations.privacy.keys import keyring
from relations.privacy.log import note
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import ordered, orders, stripping
from .lab import Came
from .models import LabLine, LabOrder

KIND = "prints.laborder"
# Of one kind, in one language: there is no wording whose version it could bear.
VERSION = "1"
# A light copy is for knowing the picture by; nobody is to print from it.
SMALL = "small"


@transaction.atomic
def print_slip(*, order: LabOrder, by: User, at: datetime) -> tuple[Sheet, bytes]:
    """Print the slip of an order under a serial of its own; give its row and the PDF.

    Whoever must no longer be seen at the lab is struck first. It is not kept but for its digest.
    Refused: nothing_on_it.
    """
    orders.strike(order=order, by=by)
    lines = ordered.slip_lines(order)
    if not lines:
        raise Refused("nothing_on_it")
    taken = set(Sheet.objects.values_list("serial", flat=True))
    serial = serials.new_serial(taken, secrets.SystemRandom())
    made = _lay(order, lines, serial)
    sheet = Sheet.objects.create(
        serial=serial,
        kind=PaperKind.LAB_SLIP,
        version=VERSION,
        pages=made.pages,
        digest=hashlib.sha256(made.content).hexdigest(),
        printed_at=at,
        printed_by=by,
    )
    note(by, "printed", KIND, order.pk)
    return sheet, made.content


def _lay(order: LabOrder, lines: list[LabLine], serial: str) -> LaidOut:
    """The slip in the language of the screen; its title is the serial, nothing is said of us."""
    key = keyring.subkey("mark")
    context = {
        "order": order,
        "lines": lines,
        "serial": serial,
        "code": qr.picture(qr.payload(LETTERS[PaperKind.LAB_SLIP], serial, 1, VERSION, key=key)),
    }
    style = "prints/paper/lab_slip.css"
    return lay_out_in("prints/paper/lab_slip.html", context, style=style, title=serial)


def pictures(user: User, order: LabOrder) -> list[Picture]:
    """The pictures of people in sight whose files go with an order, each once, by code."""
    lines = [line for line in ordered.lines(user, order) if line.came != Came.STRUCK]
    lines = [line for line in lines if not line.print.not_at_the_lab]
    found = {one.code: one for line in lines if (one := line.print.picture) is not None}
    return [found[code] for code in sorted(found)]


@transaction.atomic
def files(*, order: LabOrder, given: Mapping[str, bytes], by: User) -> bytes:
    """Put the files of an order into one, each named by its picture's code and stripped.

    `given` are the full files by picture code, handed back at once and kept nowhere; of a picture
    without one the light copy goes along as "K12-small.jpg", to know it by. The same files make
    the same bytes. Refused: nothing_on_it, not_a_picture, broken.
    """
    orders.strike(order=order, by=by)
    # Who must not be seen at the lab is asked anew: a page says only what was noted by then.
    going = {line.print.picture_id for line in ordered.slip_lines(order)}
    found = [picture for picture in pictures(by, order) if picture.pk in going]
    packed = BytesIO()
    with ZipFile(packed, "w") as into:
        for picture in found:
            if file := _file(picture, given.get(picture.code)):
                into.writestr(ZipInfo(file[0]), file[1])
        if not into.infolist():
            raise Refused("nothing_on_it")
    note(by, "files", KIND, order.pk)
    return packed.getvalue()


def _file(picture: Picture, given: bytes | None) -> tuple[str, bytes] | None:
    """The name and the bytes of one picture's file; None where there is not even a light copy."""
    try:
        if given is not None:
            return f"{picture.code}.{stripping.ending(given)}", stripping.stripped(given)
        if not picture.light_copy:
            return None
        with light_copy(picture) as opened:
            content = bytes(opened.read())
        return f"{picture.code}-{SMALL}.{stripping.ending(content)}", stripping.stripped(content)
    except stripping.StripError as error:
        raise Refused(error.code) from error
