"""Erases a person for good: the ledger first, then all rows at once, then what they left behind."""

from collections.abc import Iterable
from datetime import datetime
from typing import TYPE_CHECKING
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from relations.consent.models import TakenBack
from relations.consent.values import Scope
from relations.people.models import Participant
from relations.privacy import home, ledger, log, residue
from relations.privacy.ledger import Entry, LedgerBroken
from relations.privacy.models import LedgerHead, Role
from relations.privacy.refused import Refused
from relations.referrals import links
from relations.uses.coming_down import waiting
from relations.uses.models import Shown, UndoLine

from . import destroying, leaving
from .blanking import BLANKING, files

if TYPE_CHECKING:
    from relations.privacy.models import User


def why_not_yet(person: Participant, at: datetime) -> tuple[str, ...]:
    """Why somebody cannot be erased yet; nothing where they can.

    "stop_first": something shows them and they took nothing back, so nobody would take it down.
    "still_up": of what must come down after a stop, a line waits for somebody.
    """
    today = timezone.localdate(at)
    shown = Shown.objects.filter(pictures__appearances__person=person)
    shows_now = shown.exclude(ends_on__lt=today).exists()
    has_stopped = TakenBack.objects.filter(person=person, scope=Scope.ALL).exists()
    found = ["stop_first"] if shows_now and not has_stopped else []
    if waiting(UndoLine.objects.filter(person=person)):
        found.append("still_up")
    return tuple(found)


def erase(*, person: Participant, by: "User", at: datetime) -> int:
    """Erase a person and give the number of the line in the ledger. Nothing brings them back.

    The line is on the disk before anything goes: where this is cut short, the next opening ends
    it. Refused: keeper_only, the codes of `why_not_yet`, and "ledger" where that does not stand;
    nothing has gone then. Source: GDPR art. 17; job.md 4 (the keeper erases).
    """
    if not by.is_one_of(Role.KEEPER):
        raise Refused("keeper_only")
    if codes := why_not_yet(person, at):
        raise Refused(*codes)
    try:
        sequence = ledger.append(person.log_key)
    except LedgerBroken as error:
        raise Refused("ledger") from error
    _apply(ledger.entries(), sequence=sequence, by=by, at=at)
    return sequence


def catch_up() -> None:
    """Erase again whom the ledger says was erased and this database does not know of.

    And seal again who told us of somebody, and destroy again what else went when its clock ran
    out, where the ledger says that it was.
    Called at every opening, before anybody is let in. Raise StaysLocked where the ledger does
    not stand or is behind the database.
    """
    found = ledger.entries()
    if not found:
        return
    _apply(found, sequence=None, by=None, at=home.now())


@transaction.atomic
def _apply(
    found: Iterable[Entry], *, sequence: int | None, by: "User | None", at: datetime
) -> None:
    """Erase all of the lines after the last that was applied, everything or nothing."""
    head, _ = LedgerHead.objects.select_for_update().get_or_create(only=True)
    for entry in found:
        if entry.sequence <= head.seq:
            continue
        _let_go(entry.person_id, by if entry.sequence == sequence else None, at)
        head.seq, head.mac = entry.sequence, bytes.fromhex(entry.mac)
    head.save(update_fields=["seq", "mac"])
    if head.cleared < head.seq:
        tables = leaving.tables()
        # Robust: they are erased whatever becomes of this; the next opening tries again.
        transaction.on_commit(lambda: residue.clear(tables), robust=True)


def _let_go(log_key: UUID, by: "User | None", at: datetime) -> None:
    """Blank, then delete; the access log says that it was done, with the random key alone.

    What is no person's key may be that of a link, which is sealed, or of a number, a place, a
    recording or a form, which goes alone.
    """
    person = Participant.objects.filter(log_key=log_key).first()
    if person is None:
        if not links.seal_again(log_key):
            destroying.again(log_key)
        return
    going = leaving.going(person)
    for folder, names in files(going).items():
        residue.let_go(folder, names)
    for blank in BLANKING.values():
        blank(going, at)
    for label in leaving.GOES:
        going.of(label).delete()
    log.note(by, "erased", "person", log_key)
