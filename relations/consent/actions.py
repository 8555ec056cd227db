"""All that is done about forms, by one name each; here how a paper comes in, moves and is filed."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from relations.documents import filing
from relations.documents.models import Scan, Sheet
from relations.documents.values import PaperKind
from relations.people.actions import put_in_sight
from relations.people.models import Participant, Why
from relations.pictures.models import Sitting
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import evidence, papers
from .approvals import approve, freeze, read_back, read_page, send_back
from .blanks import print_blanks
from .boxes import whole
from .kinds import kind_of
from .models import Form
from .printing import new_serial, print_form, print_proof, read_serial, reprint
from .readings import TO_BE_READ, read, refuse_days, settle, settle_as
from .sheets import print_sheet, prove_sheet
from .shipped import load_wordings
from .spoken import (
    answer_all,
    answer_caption,
    answer_child,
    answer_guardian,
    answer_picture,
    answer_quote,
    answer_them,
    decide_condition,
    speaker_says,
    take_back,
)
from .states import BY_HAND, State
from .wordings import write_wording

__all__ = [
    "answer_all",
    "answer_caption",
    "answer_child",
    "answer_guardian",
    "answer_picture",
    "answer_quote",
    "answer_them",
    "approve",
    "bring_in",
    "cover",
    "decide_condition",
    "file",
    "freeze",
    "load_wordings",
    "move_form",
    "print_blanks",
    "print_form",
    "print_proof",
    "print_sheet",
    "prove_sheet",
    "read",
    "read_back",
    "read_page",
    "reprint",
    "send_back",
    "settle",
    "speaker_says",
    "take_back",
    "wording_was_read",
    "write_wording",
]

# What only the artist says of a paper.
BY_ARTIST = frozenset({State.DOUBTFUL, State.ENDED, State.KEPT_AS_PROOF})


@transaction.atomic
def bring_in(
    *,
    serial: str,
    person: Participant,
    given_on: date,
    language: str,
    way: str,
    sittings: Iterable[Sitting],
    answers: Mapping[str, Any],
    by: User,
    at: datetime,
    scan: bytes | None = None,
    wording_was_read: bool = False,
    **more: Any,
) -> Form:
    """Take in a paper from before the site, with what it says and, if it is there, its scan.

    `answers` as in a reading; `more` are given_at, witness, interpreter or recording. With a
    scan the artist's word that it says this stands for both readings, and the form stands if
    it is complete and its language version was read by a second person. Refused with "shape",
    "mistyped", "serial_taken", "artist_only", "day_in_future", or as `filing.inspect` says.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    on = timezone.localtime(at).date()
    read = whole({**answers, "given_on": given_on, "way": way})
    refuse_days(read, on)
    sheet = Sheet.objects.create(serial=new_serial(serial), kind=PaperKind.FORM)
    form = Form.objects.create(
        sheet=sheet,
        person=person,
        kind=kind_of(way),
        is_from_before=True,
        old_language=language,
        state=State.BROUGHT_HOME,
        state_on=on,
        given_on=given_on,
        wording_was_read=wording_was_read,
        **more,
    )
    form.sittings.set(sittings)
    papers.write(form, read)
    if scan is not None:
        filing.file(sheet=sheet, found=_inspect(scan), by=by, at=at)
        papers.step(form, to=State.SCANNED, on=on)
        settle_as(form, read, by, at)
    return form


def _inspect(content: bytes) -> filing.Inspected:
    try:
        return filing.inspect(content)
    except filing.FilingError as error:
        raise Refused(error.code) from error


@transaction.atomic
def move_form(*, form: Form, to: str, by: User, on: date) -> Form:
    """Say where a paper is: carried, left with them, missing, spoilt, brought home …

    Carrying signs it out to `by`. Only the artist says doubtful (what was settled must then be
    settled again), ended, or kept as proof. Refused with "not_by_hand", "artist_only", or as
    the rules of the states say.
    """
    state = State(to)
    if state not in BY_HAND | BY_ARTIST:
        raise Refused("not_by_hand")
    if state in BY_ARTIST and not by.is_artist:
        raise Refused("artist_only")
    form = Form.objects.select_for_update(of=("self",)).get(pk=form.pk)
    if state is State.CARRIED:
        form.carried_by = by
    if state is State.FILLED_IN:
        form.given_on = form.given_on or on
    if state is State.DOUBTFUL:
        form.settled_at = form.settled_by = None
    papers.step(form, to=state, on=on)
    return form


@transaction.atomic
def file(
    *, serial: str, content: bytes, by: User, at: datetime, person: Participant | None = None
) -> Scan:
    """File the scan of a form under its typed serial; sent twice it is kept once.

    `person` says whose paper it is where it was printed for nobody yet. Refused with "shape" or
    "mistyped" for the serial, "no_such_paper", "whose", "another_person" where the paper is
    somebody else's, "not_expected" where it cannot have come home, "already_filed" once it was
    read twice, "filed_under_another" where the same file lies under another serial, or as
    `filing.inspect` says.
    """
    form = _form_under(read_serial(serial))
    found = _inspect(content)
    if known := Scan.objects.filter(digest=found.digest, sheet=form.sheet).first():
        return known
    whose = _whose(form, person)
    on = timezone.localtime(at).date()
    if form.settled_at is not None:
        raise Refused("already_filed")
    if form.state not in TO_BE_READ:
        papers.come_home(form, by=by, on=on)
    scan = filing.file(sheet=form.sheet, found=found, by=by, at=at)
    if form.state == State.BROUGHT_HOME:
        papers.step(form, to=State.SCANNED, on=on)
    put_in_sight(person=whose, user=by, day=on, why=Why.FORM)
    return scan


def _form_under(serial: str) -> Form:
    form = (
        Form.objects.select_for_update(of=("self",))
        .select_related("sheet", "person")
        .filter(sheet__serial=serial)
        .first()
    )
    if form is None:
        raise Refused("no_such_paper")
    return form


def _whose(form: Form, person: Participant | None) -> Participant:
    """Whose form it is; a blank becomes the form of whoever is named."""
    whose = form.person or person
    if whose is None:
        raise Refused("whose")
    if person is not None and person != whose:
        raise Refused("another_person")
    form.person = whose
    return whose


@transaction.atomic
def cover(*, form: Form, sittings: Iterable[Sitting], by: User, on: date) -> Form:
    """Say which sittings a form speaks of. Refused with "not_theirs" for a sitting without them."""
    papers.cover(form, sittings)
    return form


@transaction.atomic
def wording_was_read(*, form: Form, by: User, on: date) -> Form:
    """Note that the language version of an old paper was read by a second person.

    Refused with "artist_only"; a paper of this site was printed only after that.
    """
    papers.trust_wording(form, by=by)
    evidence.stand(form, on=on)
    return form
