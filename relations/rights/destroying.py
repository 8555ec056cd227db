"""What goes when a clock runs out that is not a person's: numbers, links, recordings, forms, logs.

Whatever has a row with a key of its own is written into the ledger before it goes, so that an
older copy of the register lets go of it again (`erasing.catch_up`). Of rings and of the log only
the register knows: an older copy proposes them again at once, since their day is past.
"""

from collections.abc import Callable, Collection
from datetime import date, datetime, time
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import Model, Q, QuerySet
from django.utils import timezone

from relations.consent.models import Form
from relations.consent.states import State
from relations.documents import actions as papers
from relations.documents.models import Page, Scan, Upload
from relations.meetings import recordings
from relations.meetings.models import Call, Meeting, Recording
from relations.people import links as told
from relations.people.models import (
    Introduction,
    Participant,
    PersonHold,
    PhoneLine,
    RangUs,
    Speaker,
)
from relations.prints.models import Print
from relations.privacy import ledger, log, residue
from relations.privacy.home import today
from relations.privacy.keys import keyring
from relations.privacy.ledger import LedgerBroken
from relations.privacy.models import Mending, User
from relations.privacy.refused import Refused
from relations.referrals.links import waves

from . import clocks
from .blanking import says, somebody

# Where somebody was met or is brought something, in words: which fields are emptied, by table.
PLACES: dict[type[Model], tuple[str, ...]] = {
    Meeting: ("place", "fallback", "exit_signal", "company"),
    Speaker: ("way",),
    RangUs: ("typed",),
    Print: ("quarter", "place", "when_to_come", "word_at_the_door", "into_whose_hand"),
}
# What a form said, with who read it; that it existed, and when, stays.
SAID = (
    *("readings", "guardians", "picture_answers", "caption_answers", "quote_answers"),
    *("decisions", "kept"),
)
UNSAID: dict[str, Any] = {
    "agreed_name": "", "own_condition": "", "uses": [], "only_countries": None,
    "not_countries": [], "name_form": "none", "place_word": "none", "childs_answer": "",
    "may_keep": None, "seen_everywhere": False, "no_face": False, "show_first": False,
    "approves_captions": False, "if_cannot_answer": "ask", "if_died": "ask",
}  # fmt: skip

# Of a ring whose day and outcome alone are left.
TRIMMED = Q(line=None, due_on=None, due_at=None, next_step="")


def ways(*, person: Participant, by: User) -> None:
    """Let go of every number of somebody who sat, and of every place and way to reach them."""
    lines = list(person.lines.all())
    numbers = {bytes(row.mark) for row in lines if row.mark}
    settled = RangUs.objects.exclude(settled_on=None)
    heard = [row for row in settled if says(row.typed, person, numbers)]
    rows = [*lines, *heard, *(row for row in _places(person) if _says_where(row))]
    _listed([row.pk for row in rows], lambda: _let_ways_go(rows), by)


def has_ways(person: Participant) -> bool:
    """Whether a number, a place or a way is kept of somebody."""
    return person.lines.exists() or any(_says_where(row) for row in _places(person))


def _places(person: Participant) -> list[Model]:
    theirs = [model for model in PLACES if model is not RangUs]
    return [row for model in theirs for row in model._base_manager.filter(person=person)]


def _says_where(row: Model) -> bool:
    return any(getattr(row, name) for name in PLACES[type(row)])


def _let_ways_go(rows: Collection[Model]) -> None:
    # First: a deleted row has no key.
    Mending.objects.filter(key__in=[row.pk for row in rows]).delete()
    for row in rows:
        if isinstance(row, PhoneLine):
            row.delete()
        else:
            for name in PLACES[type(row)]:
                setattr(row, name, "")
            row.save(update_fields=PLACES[type(row)])


def whole_rings() -> QuerySet[Call]:
    """The rings of which more is kept than day and outcome; nobody's on whom a hold lies."""
    done = Call.objects.exclude(outcome="").exclude(at=None)
    held = PersonHold.objects.filter(lifted_at=None).values("person")
    return done.exclude(TRIMMED, parts=[]).exclude(person__in=held)


def rings(*, on: date) -> None:
    """Keep of the rings of 24 months ago their day and their outcome alone."""
    for call in whole_rings():
        day = timezone.localdate(call.at)
        if clocks.ring(day) <= on:
            call.line, call.due_on, call.due_at = None, None, None
            call.parts, call.next_step = [], ""
            call.at = timezone.make_aware(datetime.combine(day, time()))
            call.save()
            Mending.objects.filter(key=call.pk).delete()


def link(*, row: Introduction, by: User) -> None:
    """Seal who told us of somebody. Refused: the codes of `people.links.seal`."""
    told.seal(rows=[row], waves=waves([row]), by=by)


def recording(*, row: Recording, by: User, on: date) -> None:
    """Destroy a recording; its code stays, so that the balance of a trip comes out."""
    _listed([row.pk], lambda: recordings.destroy(recording=row, by=by, on=on), by)


def form(*, row: Form, by: User, on: date) -> None:
    """Destroy what a form says, with its scan and every copy; that it existed stays.

    Serial, kind, digest, its days and its states are the proof that there was one.
    """
    _listed([row.pk], lambda: _let_form_go(row, on), by)


def _let_form_go(row: Form, on: date) -> None:
    sheet = row.sheet
    copies = row.kept.exclude(file="").values_list("file", flat=True)
    files = [*sheet.scans.values_list("file", flat=True), *copies, sheet.kept]
    residue.let_go(residue.SCANS, files)
    for upload in Upload.objects.exclude(file=""):
        papers.take_out(upload=upload, sheets=[sheet])
    papers.not_kept(pages=Page.objects.filter(sheet=sheet))
    Page.objects.filter(sheet=sheet).update(word="")
    Scan.objects.filter(sheet=sheet).delete()
    for name in SAID:
        getattr(row, name).all().delete()
    sheet.kept = ""
    sheet.save(update_fields=["kept"])
    last = row.steps.count()
    for number, state in enumerate(_ends(State(row.state)), start=last + 1):
        row.steps.create(number=number, state=state, on=on)
    for name, empty in UNSAID.items():
        setattr(row, name, empty)
    row.state, row.state_on = State.DESTROYED, on
    row.save()
    Mending.objects.filter(key=row.pk).delete()


def _ends(state: State) -> tuple[State, ...]:
    """The states on the way out, from where the form is; a last day that passed ends a form."""
    way = (State.ENDED, State.KEPT_AS_PROOF, State.DESTROYED)
    begin = {State.ENDED: 1, State.REPLACED: 1, State.WITHDRAWN: 1, State.KEPT_AS_PROOF: 2}
    return way[begin.get(state, 0) :]


def see_log(*, on: date) -> None:
    """Let the lines of twelve months ago go. Refused: "log_broken", since it could not be said
    any more where it broke."""
    if log.broken_at() is not None:
        raise Refused("log_broken")
    day = clocks.log_from(on)
    log.prune(timezone.make_aware(datetime.combine(day, time())))


def backups(*, on: date) -> list[str]:
    """Destroy the keys of the months whose backups are older than 90 days; give the months."""
    return keyring.destroy_month_keys(on)


@transaction.atomic
def _listed(keys: Collection[UUID], act: Callable[[], object], by: User | None) -> None:
    """Write the keys into the ledger, then let go of what they name, then say that it was done."""
    try:
        for key in keys:
            ledger.append(key)
    except LedgerBroken as error:
        raise Refused("ledger") from error
    act()
    for key in keys:
        log.note(by, "let_go", "rights.lettinggo", key)
    if ledger.advance(set(keys)):
        tables = sorted(model._meta.db_table for model in TABLES)
        # Robust: they are gone whatever becomes of this; the next opening tries again.
        transaction.on_commit(lambda: residue.clear(tables), robust=True)


TABLES: tuple[type[Model], ...] = (*PLACES, PhoneLine, Recording, Form, Mending, Page, Scan)


def again(key: UUID) -> bool:
    """Let go once more of what the ledger says was let go; whether there was anything of it."""
    for model, act in AGAIN.items():
        row = model._base_manager.filter(pk=key).first()
        if row is not None and act(row):
            log.note(None, "let_go", "rights.lettinggo", key)
            return True
    return False


def _again_ways(row: Model) -> bool:
    is_there = isinstance(row, PhoneLine) or _says_where(row)
    _let_ways_go([row])
    return is_there


def _again_recording(row: Recording) -> bool:
    is_there = row.destroyed_on is None
    if is_there:
        recordings.destroy(recording=row, by=somebody(), on=today())
    return is_there


def _again_form(row: Form) -> bool:
    is_there = row.state != State.DESTROYED
    if is_there:
        _let_form_go(row, today())
    return is_there


AGAIN: dict[type[Model], Callable[..., bool]] = {
    **dict.fromkeys((PhoneLine, *PLACES), _again_ways),
    Recording: _again_recording,
    Form: _again_form,
}
