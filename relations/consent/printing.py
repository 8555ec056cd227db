"""Blank forms in two languages: printed once under a serial, or as a proof to be read."""

import hashlib
import secrets
from datetime import datetime

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from relations.documents import qr, serials
from relations.documents.models import Sheet, SheetKind
from relations.people.models import Participant
from relations.privacy.keys import keyring
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import paper
from .models import Form, Wording
from .wordings import is_frozen


def _column(wording: Wording) -> paper.Column:
    clauses = tuple(
        paper.PaperClause(clause.key, clause.number, clause.heading, clause.text)
        for clause in wording.clauses.all()
    )
    return paper.Column(wording.language, clauses, wording.labels)


def _version(first: Wording, second: Wording) -> str:
    """The version as a paper says it: "2", or "0201" where the two languages differ."""
    if first.version == second.version:
        return str(first.version)
    return f"{first.version:02d}{second.version:02d}"


def _pdf(
    first: Wording, second: Wording, serial: str, *, draft: bool, key: bytes | None = None
) -> bytes:
    """The two sides as a PDF; the same bytes each time on one machine, under the same key."""
    version, key = _version(first, second), key or keyring.subkey("mark")
    return paper.pdf(
        paper.FormPaper(
            serial=serial,
            version=version,
            first=_column(first),
            second=_column(second),
            stop_number=settings.RELATIONS_STOP_NUMBER,
            draft=draft,
            payload=lambda page: qr.payload("F", serial, page, version, key=key),
        )
    )


def _refuse_pair(first: Wording, second: Wording) -> None:
    if first.language == second.language:
        raise Refused("same_language")
    shapes = [list(wording.clauses.values_list("key", "number")) for wording in (first, second)]
    if shapes[0] != shapes[1]:
        raise Refused("clauses_differ")


@transaction.atomic
def print_form(
    *,
    first: Wording,
    second: Wording,
    by: User,
    at: datetime,
    person: Participant | None = None,
    serial: str | None = None,
) -> tuple[Form, bytes]:
    """Print one blank form in two languages, the sitter's first, under a serial of its own.

    `serial` is drawn where none is given. The paper itself never holds a name; `person` is only
    whom it is meant for. Refused with "first_unread" or "second_unread" where a wording is not
    frozen, "same_language", "clauses_differ", "serial_taken".
    """
    unread = [
        f"{which}_unread"
        for which, wording in (("first", first), ("second", second))
        if not is_frozen(wording)
    ]
    if unread:
        raise Refused(*unread)
    _refuse_pair(first, second)
    serial = new_serial(serial)
    content = _pdf(first, second, serial, draft=False)
    sheet = Sheet.objects.create(
        serial=serial,
        kind=SheetKind.FORM,
        version=_version(first, second),
        digest=hashlib.sha256(content).hexdigest(),
        printed_at=at,
        printed_by=by,
    )
    form = Form.objects.create(
        sheet=sheet,
        person=person,
        first_wording=first,
        second_wording=second,
        state_on=timezone.localtime(at).date(),
        wording_was_read=True,
    )
    return form, content


def new_serial(given: str | None) -> str:
    """A serial that no paper has: the given one, or one drawn. Refused with "serial_taken"."""
    taken = set(Sheet.objects.values_list("serial", flat=True))
    if given is None:
        return serials.new_serial(taken, secrets.SystemRandom())
    serial = read_serial(given)
    if serial in taken:
        raise Refused("serial_taken")
    return serial


def read_serial(typed: str) -> str:
    """The serial as it is kept. Refused with "shape" or "mistyped"."""
    try:
        return str(serials.read_serial(typed))
    except serials.SerialError as error:
        raise Refused(error.code) from error


def print_proof(*, first: Wording, second: Wording) -> bytes:
    """A proof marked DRAFT, to be read and not to be signed; it has no number and leaves no row.

    Refused with "same_language" or "clauses_differ".
    """
    _refuse_pair(first, second)
    return _pdf(first, second, "", draft=True)


def reprint(*, form: Form) -> bytes:
    """The very bytes that were printed under this serial.

    Refused with "from_before" for a paper that this site did not print, "not_the_same" where
    the page no longer comes out as it did: then a new form is printed instead.
    """
    if form.first_wording is None or form.second_wording is None:
        raise Refused("from_before")
    # A form printed before a rekey bears a code that an earlier key made.
    for key in keyring.mark_keys():
        content = _pdf(
            form.first_wording, form.second_wording, form.sheet.serial, draft=False, key=key
        )
        if hashlib.sha256(content).hexdigest() == form.sheet.digest:
            return content
    raise Refused("not_the_same")
