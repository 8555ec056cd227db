"""Papers other than the form, in two languages: printed under a serial, or as a proof."""

import hashlib
from collections.abc import Iterable, Mapping
from contextlib import AbstractContextManager, nullcontext
from datetime import datetime
from typing import Any

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from relations.documents import qr
from relations.documents.columns import Column, Line, Pair, PaperClause, labelled, line
from relations.documents.models import Sheet
from relations.documents.papers import Paper, lay
from relations.documents.render import LaidOut
from relations.documents.values import LETTERS, PaperKind
from relations.languages.local_calendars import Calendar
from relations.languages.paper_days import for_reader
from relations.people.models import Participant
from relations.privacy.keys import keyring
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import team
from .models import PaperOf, Wording
from .printing import new_serial, read_serial, version_of
from .source import refuse_pair, refuse_unready
from .values import Use
from .wordings import words_of

# The template of each kind; those of a room above this one are named by it.
TEMPLATES: Mapping[PaperKind, str] = {
    PaperKind.EXPLANATION: "consent/paper/explanation.html",
    PaperKind.STOP_CARD: "consent/paper/stop_card.html",
    PaperKind.TAKE_BACK: "consent/paper/take_back.html",
    PaperKind.MEETING: "meetings/paper/meeting.html",
    PaperKind.SITTING: "pictures/paper/sitting.html",
    PaperKind.SPOT: "consent/paper/spot.html",
    PaperKind.RECEIPT: "prints/paper/receipt.html",
    PaperKind.ANSWER: "uses/paper/answer.html",
    PaperKind.NOTICE: "rights/paper/notice.html",
    PaperKind.DAY: "today/paper/day.html",
}
# What stands under every page, from the form's own words.
FOOT = "stop_line"


def _column(wording: Wording, kind: PaperKind) -> Column:
    """The words of one paper in one language. Refused with "no_words" where it has none yet."""
    held, labels = words_of(wording, kind)
    if "title" not in labels:
        raise Refused("no_words")
    said = tuple(PaperClause(one.key, one.number, one.heading, one.text) for one in held)
    return Column(wording.language, said, labels)


def _foot(kind: PaperKind, columns: Pair, printed: tuple[User, datetime] | None) -> Line | None:
    """Under a sitter's paper the number to ring; under the team's who printed it, and when."""
    if kind not in team.KINDS:
        number = settings.RELATIONS_STOP_NUMBER
        return line(columns, FOOT, [(column.labels[FOOT], number) for column in columns])
    if printed is None:
        return None
    by, at = printed
    hour = f"{timezone.localtime(at):%Y-%m-%d %H:%M}"
    return team.foot(columns, by_artist=by.is_artist, at=hour)


def _lay(
    kind: PaperKind,
    first: Wording,
    second: Wording,
    values: Mapping[str, Any],
    serial: str,
    printed: tuple[User, datetime] | None = None,
) -> LaidOut:
    """Lay one paper out; without a serial it is a proof and says so."""
    columns = _column(first, kind), _column(second, kind)
    version, key = version_of(first, second), keyring.subkey("mark")
    number = settings.RELATIONS_STOP_NUMBER
    paper = Paper(
        kind=kind,
        template=TEMPLATES[kind],
        serial=serial,
        version=version,
        first=columns[0],
        second=columns[1],
        payload=lambda page: qr.payload(LETTERS[kind], serial, page, version, key=key),
        values={"stop_number": number, "uses": labelled(columns, "use_", tuple(Use)), **values},
        foot=_foot(kind, columns, printed),
        draft=not serial,
    )
    return lay(paper)


@transaction.atomic
def print_sheet(
    *,
    kind: PaperKind,
    first: Wording,
    second: Wording,
    values: Mapping[str, Any],
    by: User,
    at: datetime,
    serial: str | None = None,
    of: Iterable[Participant] = (),
) -> tuple[Sheet, bytes]:
    """Print one paper in two languages, the sitter's first; give its row and the PDF.

    `values` are plain values that the template of `kind` names; what they say is on the paper and
    nowhere else. `of` are those whom it is about: its pages go with them. `serial` is drawn where
    none is given; a stop card has none of its own and bears the one given, of a form. Refused as
    `editions.printing_codes` says of the two wordings, with "no_words", "serial_taken", and for a
    stop card "no_such_paper" where no form has that serial.
    """
    refuse_unready(first, second)
    if kind == PaperKind.STOP_CARD:
        form = _form_sheet(serial or "")
        return form, _lay(kind, first, second, values, form.serial).content
    number = new_serial(serial)
    people = tuple(of)
    with days_of(people, first.language):
        made = _lay(kind, first, second, values, number, (by, at))
    sheet = Sheet.objects.create(
        serial=number,
        kind=kind.value,
        version=version_of(first, second),
        pages=made.pages,
        digest=hashlib.sha256(made.content).hexdigest(),
        printed_at=at,
        printed_by=by,
    )
    PaperOf.objects.bulk_create(PaperOf(sheet=sheet, person=person) for person in people)
    return sheet, made.content


def days_of(people: tuple[Participant, ...], lang: str) -> AbstractContextManager[None]:
    """Days in their language bear the calendar they named, where the paper is of one person."""
    named = people[0].calendar if len(people) == 1 else ""
    return for_reader(lang, Calendar(named)) if named else nullcontext()


def _form_sheet(typed: str) -> Sheet:
    found = Sheet.objects.filter(serial=read_serial(typed), kind=PaperKind.FORM).first()
    if found is None:
        raise Refused("no_such_paper")
    return found


def prove_sheet(
    *, kind: PaperKind, first: Wording, second: Wording, values: Mapping[str, Any]
) -> bytes:
    """A proof marked DRAFT of one paper, to be read; it has no number and leaves no row.

    Refused with "same_language", "clauses_differ" or "no_words".
    """
    refuse_pair(first, second)
    return _lay(kind, first, second, values, "").content
