"""What a stop asks for in everything that is shown: the lines, and what became of each."""

from collections.abc import Iterable
from datetime import date, datetime

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from relations.consent import queries as consent
from relations.consent.models import TakenBack
from relations.consent.rules import binding
from relations.consent.values import Person, Scope
from relations.people.models import Participant
from relations.pictures.models import Picture
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import rules
from .causes import Because
from .models import Shown, UndoLine


@transaction.atomic
def open_undo(*, person: Participant, by: User, at: datetime) -> list[UndoLine]:
    """List what must come down of all that a person has taken back, soonest first (F15).

    To be called in the transaction in which the no was heard. It looks at every use in the
    register that shows a picture of theirs, and gives the lines that are new: one that is open
    stays, and one that is done comes again only if they gave a form since.
    """
    # Two stops of one person at one moment: the second sees what the first has listed.
    Participant.objects.select_for_update().get(pk=person.pk)
    said = list(TakenBack.objects.filter(person=person).select_related("picture"))
    pictures = Picture.objects.filter(appearances__person=person, shown__isnull=False)
    found = consent.load(pictures.distinct(), timezone.localdate(at))
    known = found.people.get(person.code)
    if not said or known is None:
        return []
    sittings = {picture.id: picture.sitting for picture in found.pictures}
    seen = _seen(person, known)
    lines = [
        line
        for shown, picture in _shown(person)
        if _is_stopped(said, known, sittings[picture.code], shown, picture)
        for line in _lines(person, shown, picture, at)
        if (shown.pk, picture.pk, line.code) not in seen
    ]
    made = UndoLine.objects.bulk_create(lines)
    _hear_too(person, said, known, sittings)
    return sorted(made, key=lambda line: (line.due_at is None, line.due_at or at))


def _hear_too(
    person: Participant, said: list[TakenBack], known: Person, sittings: dict[str, str]
) -> None:
    """What came down for a hold or an arrest stays down for the no, whatever is lifted later."""
    others = UndoLine.objects.filter(person=person, done_on=None).exclude(
        because=Because.TAKEN_BACK
    )
    for line in others.select_related("shown", "picture"):
        if _is_stopped(said, known, sittings[line.picture.code], line.shown, line.picture):
            line.because = Because.TAKEN_BACK
            line.save(update_fields=["because"])


def _shown(person: Participant) -> Iterable[tuple[Shown, Picture]]:
    """Every use in the register with every picture of this person in it."""
    through = Shown.pictures.through.objects.filter(picture__appearances__person=person)
    rows = through.select_related("shown", "picture").order_by("shown__code", "picture__code")
    return [(row.shown, row.picture) for row in rows]


def _is_stopped(
    said: Iterable[TakenBack], known: Person, sitting: str, shown: Shown, picture: Picture
) -> bool:
    """Whether a no reaches this picture in this use, and no form was given since that stands."""
    base, _ = binding(known.forms, sitting)
    return any(
        (base is None or base.given_on <= no.said_on)
        and (
            no.scope == Scope.ALL
            or (no.scope == Scope.USE and no.use == shown.use)
            or (no.scope == Scope.PICTURE and no.picture == picture)
        )
        for no in said
    )


def _seen(person: Participant, known: Person) -> set[tuple[object, object, str]]:
    """The lines that need not come again."""
    newest = max((form.given_on for form in known.forms), default=None)
    return {
        (line.shown_id, line.picture_id, line.code)
        for line in UndoLine.objects.filter(person=person)
        if line.done_on is None or newest is None or newest <= line.done_on
    }


def _lines(person: Participant, shown: Shown, picture: Picture, at: datetime) -> Iterable[UndoLine]:
    use = rules.ShownUse(shown.use, ended_on=shown.ends_on, press_on=shown.press_day)
    for line in rules.undo_lines(use, timezone.localtime(at), person.level or None):
        yield UndoLine(
            shown=shown,
            picture=picture,
            person=person,
            code=line.code,
            force=line.force,
            opened_at=at,
            due_at=line.due_at,
        )


@transaction.atomic
def undo_done(*, line: UndoLine, on: date, by: User, cannot: bool = False) -> UndoLine:
    """Note that a thing has come down, or that it cannot (`cannot`), and the day.

    A second press finds it done. Refused: before_the_stop.
    """
    row = _row(line, on)
    if row.done_on is None:
        row.done_on, row.done_by, row.cannot = on, by, cannot
        row.save(update_fields=["done_on", "done_by", "cannot"])
    return row


@transaction.atomic
def told(*, line: UndoLine, on: date, by: User) -> UndoLine:
    """Note the day on which they were told of a line. Refused: before_the_stop."""
    row = _row(line, on)
    if row.told_them_on is None:
        row.told_them_on = on
        row.save(update_fields=["told_them_on"])
    return row


@transaction.atomic
def told_holder(*, line: UndoLine, on: date, by: User) -> UndoLine:
    """Note the day on which whoever holds the files was told. Refused: before_the_stop."""
    row = _row(line, on)
    if row.told_holder_on is None:
        row.told_holder_on = on
        row.save(update_fields=["told_holder_on"])
    return row


def _row(line: UndoLine, on: date) -> UndoLine:
    """The row of a line; one that was only worked out until now comes into the register, once."""
    if on < timezone.localdate(line.opened_at):
        raise Refused("before_the_stop")
    if not line._state.adding:
        return line
    Participant.objects.select_for_update().get(pk=line.person_id)
    same = {"shown": line.shown, "picture": line.picture, "person": line.person, "code": line.code}
    kept = UndoLine.objects.filter(Q(pk=line.pk) | Q(**same, done_on=None)).first()
    if kept is None:
        line.save()
    return kept or line
