"""Blank forms in two languages: printed once under a serial, or as a proof to be read."""

import hashlib
import secrets
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from copy import copy
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from django.conf import settings
from django.db import transaction
from django.db.models import prefetch_related_objects
from django.utils import timezone

from relations.documents import keeping, layouts, qr, serials
from relations.documents.columns import Column, PaperClause
from relations.documents.models import Sheet
from relations.documents.render import Attached
from relations.documents.values import LETTERS, PaperKind
from relations.meetings.models import Trip
from relations.people.models import Participant
from relations.privacy.keys import keyring
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import paper
from .kinds import KINDS
from .models import Form, Wording
from .source import refuse_pair, refuse_unready
from .values import FormKind
from .wordings import words_of

HEADING = "heading"


@dataclass(frozen=True)
class Blank:
    """What is printed before anybody's number is on it: two wordings, the kind, a neutral heading.

    The sitter's wording is the first.
    """

    first: Wording
    second: Wording
    kind: FormKind = FormKind.ADULT
    has_heading: bool = False

    @property
    def version(self) -> str:
        """The version as a paper says it."""
        return version_of(self.first, self.second)


def version_of(first: Wording, second: Wording) -> str:
    """The version as a paper says it: "2", or "0201" where the two languages differ."""
    if first.version == second.version:
        return str(first.version)
    return f"{first.version:02d}{second.version:02d}"


def _column(wording: Wording, *, has_heading: bool) -> Column:
    held, labels = words_of(wording)
    clauses = tuple(
        PaperClause(clause.key, clause.number, clause.heading, clause.text) for clause in held
    )
    return Column(wording.language, clauses, labels, labels[HEADING] if has_heading else "")


def _papers(
    blank: Blank, numbers: Sequence[str], *, draft: bool = False, key: bytes | None = None
) -> list[paper.FormPaper]:
    """All that the two sides say under each serial; under the same key the same each time."""
    version, mark = blank.version, key or keyring.subkey("mark")
    letter = LETTERS[PaperKind.FORM]
    columns = [_column(one, has_heading=blank.has_heading) for one in (blank.first, blank.second)]
    return [
        paper.FormPaper(
            serial=serial,
            version=version,
            first=columns[0],
            second=columns[1],
            stop_number=settings.RELATIONS_STOP_NUMBER,
            draft=draft,
            payload=lambda page, serial=serial: qr.payload(  # type: ignore[misc]
                letter, serial, page, version, key=mark
            ),
            kind=blank.kind,
            size=settings.RELATIONS_PAPER_SIZE,
        )
        for serial in numbers
    ]


def _at_once(blank: Blank) -> Blank:
    """The same two wordings, whose clauses are fetched once for all that is asked of them.

    As copies: whoever holds the wordings themselves reads their clauses as they are by then.
    """
    first, second = copy(blank.first), copy(blank.second)
    prefetch_related_objects([first, second], "clauses")
    return replace(blank, first=first, second=second)


@contextmanager
def _within_two_sides() -> Iterator[None]:
    try:
        yield
    except paper.LengthError as error:
        raise Refused("too_long") from error


def _refuse_words(blank: Blank) -> None:
    """Refused with "words_missing" where a wording is older than this kind of form."""
    needed = KINDS[blank.kind].labels | ({HEADING} if blank.has_heading else set())
    if any(needed - set(words_of(one)[1]) for one in (blank.first, blank.second)):
        raise Refused("words_missing")


@transaction.atomic
def print_form(
    *,
    first: Wording,
    second: Wording,
    by: User,
    at: datetime,
    person: Participant | None = None,
    serial: str | None = None,
    kind: FormKind = FormKind.ADULT,
    has_heading: bool = False,
    trip: Trip | None = None,
) -> tuple[Form, bytes]:
    """Print one blank form in two languages, the sitter's first, under a serial of its own.

    `serial` is drawn where none is given. The paper itself never holds a name; `person` is only
    whom it is meant for. The bytes are kept sealed with their SHA-256. Refused as
    `editions.printing_codes` says of the two wordings, or with "words_missing" where one is
    older than this kind of form, "too_long", "serial_taken".
    """
    blank = Blank(first, second, FormKind(kind), has_heading)
    form = print_each(blank, [serial], by=by, at=at, person=person, trip=trip)[0]
    return form, reprint(form=form)


@transaction.atomic
def print_each(
    blank: Blank, numbers: Sequence[str | None], *, by: User, at: datetime, **more: object
) -> list[Form]:
    """Print a blank as often as there are `numbers`, each a serial or None for one to be drawn.

    `more` are further fields of the form. Each paper is sealed as it is made, so that a large
    batch is never in memory whole. All stand, or none; refused as `print_form`.
    """
    read = _at_once(blank)
    refuse_unready(read.first, read.second)
    _refuse_words(read)
    drawn: list[str] = []
    for number in numbers:
        drawn.append(new_serial(number, drawn))
    papers = _papers(read, drawn)
    names: list[str] = []
    with _within_two_sides(), keeping.all_or_none(names):
        layout = layouts.keep(paper.anchors(papers[0]))
        printed = {"printed_by": by, "printed_at": at, "layout": layout}
        return [
            _row(blank, serial, content, names, printed, more)
            for serial, content in zip(drawn, paper.pdfs(papers), strict=True)
        ]


def _row(
    blank: Blank,
    serial: str,
    content: bytes,
    names: list[str],
    printed: dict[str, Any],
    more: dict[str, object],
) -> Form:
    """The rows of one printed form, whose file is sealed first and added to `names`."""
    name, digest = keeping.keep(content)
    names.append(name)
    sheet = Sheet.objects.create(
        serial=serial,
        kind=PaperKind.FORM,
        version=blank.version,
        digest=digest,
        kept=name,
        **printed,
    )
    return Form.objects.create(
        sheet=sheet,
        kind=blank.kind,
        first_wording=blank.first,
        second_wording=blank.second,
        state_on=timezone.localtime(printed["printed_at"]).date(),
        wording_was_read=True,
        **more,
    )


def new_serial(given: str | None, drawn: Sequence[str] = ()) -> str:
    """A serial that no paper has: the given one, or one drawn. Refused with "serial_taken".

    `drawn` are serials that are taken too, though they have no row yet.
    """
    taken = {*Sheet.objects.values_list("serial", flat=True), *drawn}
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


def print_proof(
    *, first: Wording, second: Wording, kind: FormKind = FormKind.ADULT, has_heading: bool = False
) -> bytes:
    """A proof marked DRAFT, to be read and not to be signed; it has no number and leaves no row.

    Refused with "same_language", "clauses_differ", "words_missing" or "too_long".
    """
    blank = _at_once(Blank(first, second, FormKind(kind), has_heading))
    refuse_pair(blank.first, blank.second)
    _refuse_words(blank)
    with _within_two_sides():
        return paper.pdf(_papers(blank, [""], draft=True)[0])


def reprint(*, form: Form) -> bytes:
    """The very bytes that were printed under this serial, as they were kept.

    Refused with "not_as_kept" where they are damaged. A form from before its bytes were kept is
    laid out once more and compared: refused with "from_before" for a paper that this site did
    not print, "not_the_same" where the page no longer comes out as it did.
    """
    if form.first_wording is None or form.second_wording is None:
        raise Refused("from_before")
    try:
        kept = keeping.content(form.sheet)
    except keeping.NotAsKeptError as error:
        raise Refused("not_as_kept") from error
    return _laid_out_again(form) if kept is None else kept


def _laid_out_again(form: Form) -> bytes:
    assert form.first_wording is not None  # noqa: S101 # `reprint` has looked
    assert form.second_wording is not None  # noqa: S101
    blank = Blank(form.first_wording, form.second_wording, FormKind(form.kind))
    # A form printed before a rekey bears a code that an earlier key made.
    for key in keyring.mark_keys():
        with _within_two_sides():
            content = paper.pdf(_papers(blank, [form.sheet.serial], key=key)[0])
        if hashlib.sha256(content).hexdigest() == form.sheet.digest:
            return content
    raise Refused("not_the_same")


def archive_copy(*, form: Form, record: Attached) -> bytes:
    """The two sides as they are kept for decades, with the form's record inside the file.

    Refused with "from_before" for a paper that this site did not print; else raises what
    `paper.archive_pdf` does.
    """
    if form.first_wording is None or form.second_wording is None:
        raise Refused("from_before")
    blank = Blank(form.first_wording, form.second_wording, FormKind(form.kind))
    return paper.archive_pdf(_papers(blank, [form.sheet.serial])[0], record)
