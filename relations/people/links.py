"""What becomes of the rows that say who told us of whom: put right, sealed, and kept sealed."""

from collections.abc import Collection, Iterable, Mapping
from datetime import date, datetime
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from relations.privacy import ledger, log, residue
from relations.privacy.ledger import LedgerBroken
from relations.privacy.models import Mending, Role
from relations.privacy.refused import Refused

from . import actions, rules
from .models import Introduction, OutsideIntroducer, Participant, PhoneLine
from .values import Precision

if TYPE_CHECKING:
    from relations.privacy.models import User

# How far out each person stands whose link is sealed, by the key of the row; None: not known.
Waves = Mapping[UUID, int | None]
KIND = "people.introduction"


def naming() -> Q:
    """The rows that say who it was: not the artist's own starts, and none that is sealed."""
    return Q(introducer__isnull=False) | Q(outside__isnull=False)


@transaction.atomic
def seal(*, rows: Collection[Introduction], waves: Waves, by: "User") -> None:
    """Take who told us out of these rows for good; a stub stays, with its day and its wave.

    The lines of the ledger are on the disk before anything goes, so that an older copy of the
    register that is put back is sealed again (`rights.erasing.catch_up`). Refused:
    artist_or_keeper, sealed_before (a row that names nobody), and "ledger" where that does not
    stand; nothing has gone then. The artist seals when they like, the keeper when the clock of
    links ran out. Source: introductions.md 1.7 and 4; job.md F4.
    """
    if not by.is_one_of(Role.ARTIST, Role.KEEPER):
        raise Refused("artist_or_keeper")
    if not rows or any(row.introducer_id is None and row.outside_id is None for row in rows):
        raise Refused("sealed_before")
    try:
        for row in rows:
            ledger.append(row.pk)
    except LedgerBroken as error:
        raise Refused("ledger") from error
    for row in rows:
        log.note(by, "sealed", KIND, row.person.log_key)
    withhold(rows, waves)
    if ledger.advance({row.pk for row in rows}):
        tables = [model._meta.db_table for model in (Introduction, Mending, PhoneLine)]
        # Robust: they are sealed whatever becomes of this; the next opening tries again.
        transaction.on_commit(lambda: residue.clear(tables), robust=True)


def withhold(rows: Iterable[Introduction], waves: Waves) -> None:
    """Empty these rows of whoever told us and of all that would say who it was.

    Older values of the rows go too. A line of theirs through whoever told us becomes a shared one
    that says nothing of whose it is; so nobody says a name into it.
    """
    for row in rows:
        if row.introducer_id is not None:
            through = PhoneLine.objects.filter(person=row.person_id, through=row.introducer_id)
            through.update(through=None, is_shared=True)
        row.introducer = row.outside = None
        row.is_withheld, row.wave = True, waves.get(row.pk)
        row.may_say_who = row.has_power = None
        row.save()
        Mending.objects.filter(kind=KIND, key=row.pk).delete()


def forget_mended(source: Participant | OutsideIntroducer) -> None:
    """Let go of older values that say that they had told us of somebody; each is opened."""
    said = str(source.pk)
    rows = [row.pk for row in Mending.objects.filter(kind=KIND) if said in row.old.values()]
    Mending.objects.filter(pk__in=rows).delete()


def seal_again(key: UUID, waves: Waves) -> bool:
    """Seal a row once more that the ledger says was sealed; whether there was anything to seal."""
    row = Introduction.objects.filter(naming(), pk=key).select_related("person").first()
    if row is None:
        return False
    withhold([row], waves)
    log.note(None, "sealed", KIND, row.person.log_key)
    return True


@transaction.atomic
def mend_hearing(
    *,
    told: Introduction,
    by: "User",
    at: datetime,
    on: date,
    precision: str = Precision.DAY,
    introducer: Participant | None = None,
    outside: OutsideIntroducer | None = None,
) -> None:
    """Put right who told us or when; the old values stay, sealed. Of a sealed link only the day.

    Where somebody else told us, what was asked of the first one is not known of them, and the
    artist's yes to it goes. Refused: artist_only, two_sources, by_themselves, told_before,
    in_the_future, after_yes (a day after the artist's yes to this very word).
    """
    known = Precision(precision)
    first = rules.starts(on, known)
    _check(told, by=by, at=at, on=first, introducer=introducer, outside=outside)
    changes: dict[str, Any] = {"heard_on": first, "precision": known}
    if not told.is_withheld and (told.introducer, told.outside) != (introducer, outside):
        unasked = dict.fromkeys(("asked_first", "may_say_who", "has_power", "vouched_on"))
        changes |= {"introducer": introducer, "outside": outside, **unasked}
    elif told.vouched_on is not None and first > told.vouched_on:
        raise Refused("after_yes")
    changes = {name: value for name, value in changes.items() if getattr(told, name) != value}
    if changes:
        actions.mend(row=told, changes=changes, person=told.person, by=by, at=at)


def _check(
    told: Introduction,
    *,
    by: "User",
    at: datetime,
    on: date,
    introducer: Participant | None,
    outside: OutsideIntroducer | None,
) -> None:
    if not by.is_artist:
        raise Refused("artist_only")
    if introducer is not None and outside is not None:
        raise Refused("two_sources")
    if introducer == told.person:
        raise Refused("by_themselves")
    if on > timezone.localdate(at):
        raise Refused("in_the_future")
    theirs = told.person.introductions.exclude(pk=told.pk).exclude(is_withheld=True)
    source = {"introducer": introducer} if introducer else {"outside": outside}
    if (introducer or outside) and theirs.filter(**source).exists():
        raise Refused("told_before")
