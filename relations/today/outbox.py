"""What telephones wrote without a signal: taken in once, acted on as by a press, or kept and asked.

Nothing that was typed is lost: what cannot be acted on is kept, sealed, and shown to its writer
until it is settled or let go.
"""

import json
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from django.db import transaction
from django.db.models import QuerySet
from django.http import QueryDict
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone

from relations.languages.day_fields import MEANT
from relations.privacy import clock
from relations.privacy.access import HANDS, first_thing
from relations.privacy.crypt import SealBroken
from relations.privacy.home import today
from relations.privacy.log import note
from relations.privacy.models import EntryState, OutboxEntry, User
from relations.privacy.outbox import LONGEST, seal, unseal
from relations.privacy.refused import Refused

from .outbox_forms import FORMS, EntryForm, StopEntry
from .rules import doubts, likely

# What waits for its writer.
WAITS = (EntryState.ASKED, EntryState.REFUSED, EntryState.UNREAD)


class NotNow(Exception):  # noqa: N818 - an answer, not a mistake
    """Our own clock is behind: the telephone keeps the entry and sends it later."""


# Bytes; in base64 an entry grows by a third, and keys and times stand beside it.
LONGEST_PARCEL = 2 * LONGEST


@dataclass(frozen=True)
class Parcel:
    """One entry as a telephone sends it: its key, what is sealed, and the telephone's time."""

    key: UUID
    sealed: dict[str, Any]
    phone_at: datetime | None


def parcel(body: bytes) -> Parcel:
    """Read {"key", "sealed", "now"} out of JSON. Raise ValueError where it is of another shape."""
    if len(body) > LONGEST_PARCEL:
        raise ValueError("an entry is short")
    try:
        said = json.loads(body)
    except RecursionError as error:
        raise ValueError("no entry goes so deep") from error
    if not isinstance(said, dict) or not isinstance(said.get("sealed"), dict):
        raise ValueError("no entry of an outbox")
    if not all(isinstance(part, str) for part in said["sealed"].values()):
        raise ValueError("what is sealed is letters only")
    return Parcel(UUID(str(said.get("key"))), said["sealed"], _moment(said.get("now")))


def _moment(said: object) -> datetime | None:
    """An aware moment in ISO 8601; None for anything else."""
    try:
        found = datetime.fromisoformat(str(said))
    except ValueError:
        return None
    return found if found.tzinfo else None


def waiting(user: User) -> QuerySet[OutboxEntry]:
    """What waits for somebody: their own; for the artist everybody's."""
    rows = OutboxEntry.objects.filter(state__in=WAITS).select_related("by")
    return rows if user.is_artist else rows.filter(by=user)


def entry_or_404(user: User, key: UUID) -> OutboxEntry:
    """One that waits for somebody; Http404 where absent, settled or somebody else's."""
    return get_object_or_404(waiting(user), pk=key)


@transaction.atomic
def take_in(*, parcel: Parcel, by: User, doubt: str = "") -> tuple[OutboxEntry, bool]:
    """Take an entry in and act on it; give its row, and whether it is new.

    `doubt` is one of the way on which it came, beside those of the telephone's clock.

    The same key again gives the row of the first time and changes nothing, whoever sends it. A stop
    acts at once, and in doubt from today. Anything else whose clock is in doubt waits for its
    writer, as does what the rules refuse. Raise NotNow where our own clock is behind and it is no
    stop: nothing is kept then.
    """
    entry, is_new = OutboxEntry.objects.get_or_create(
        pk=parcel.key,
        defaults={
            "state": EntryState.UNREAD,
            "by": by,
            "phone_at": parcel.phone_at,
            "received_at": timezone.now(),
            "said": {"sealed": parcel.sealed},
        },
    )
    if is_new:
        _open(entry, parcel.sealed, by, doubt)
        entry.save()
    return entry, is_new


def _open(entry: OutboxEntry, sealed: dict[str, Any], by: User, on_its_way: str) -> None:
    """Act on a new entry, or write into it why it waits."""
    try:
        said = unseal(sealed, entry.pk)
    except SealBroken:
        return
    typed = {name: str(value) for name, value in said.items()}
    written, known = _moment(said.get("written_at")), _moment(said.get("known_at"))
    kind = FORMS.get(typed.get("kind", ""))
    if kind is None:
        return
    if clock.behind() and kind is not StopEntry:
        raise NotNow
    entry.written_at = written
    whose = kind.whose(typed)
    entry.about = whose.log_key if whose else None
    doubt = doubts(
        written_at=written, known_at=known, phone_at=entry.phone_at, received_at=entry.received_at
    )
    doubt += (on_its_way,) if on_its_way else ()
    entry.said = {"typed": typed, "doubts": list(doubt)}
    if kind is StopEntry:
        _hear(entry, by)
    elif doubt:
        entry.state = EntryState.ASKED
    else:
        _try(entry, form_of(entry, by), by)


def _hear(entry: OutboxEntry, by: User) -> None:
    """A no acts on hearing: where its day is in doubt, from today, and the day is asked for."""
    form = form_of(entry, by)
    if entry.said["doubts"] or not form.is_valid():
        form = form_of(entry, by, day=today().isoformat())
        _try(entry, form, by, asks=True)
    else:
        _try(entry, form, by)


def _try(entry: OutboxEntry, form: EntryForm, by: User, *, asks: bool = False) -> None:
    """Act as the press of a form does; what is refused is kept with its codes."""
    typed, doubt = entry.said["typed"], entry.said["doubts"]
    codes: list[str] = []
    if form.is_valid():
        try:
            with transaction.atomic():
                _may(by, form)
                form.act(by)
        except Refused as refused:
            codes = list(refused.codes)
        else:
            acts_since = {"acts_since": today().isoformat()} if asks else {}
            entry.state = EntryState.ASKED if asks else EntryState.DONE
            entry.said = {"typed": typed, "doubts": doubt, **acts_since} if asks else {}
            return
    entry.state = EntryState.REFUSED
    entry.said = {"typed": typed, "doubts": doubt, "codes": codes}


def _may(by: User, form: EntryForm) -> None:
    """A no is heard of anybody and at any hour; the rest by those whose work it is, in order."""
    if isinstance(form, StopEntry):
        return
    if by.role not in HANDS or first_thing(by):
        raise Refused("not_yours")
    if clock.behind():
        raise Refused("clock")


def act(form: EntryForm, by: User) -> str:
    """Act on a form that was sent without a script; the address it leads to. Raise Refused."""
    _may(by, form)
    return form.act(by)


def form_of(entry: OutboxEntry, user: User, **instead: str) -> EntryForm:
    """The form of an entry as it was typed, with the entry's own key as its token."""
    meant = {name + MEANT: said for name, said in instead.items()}
    typed = {**entry.said["typed"], **instead, **meant, "token": str(entry.pk)}
    return FORMS[typed["kind"]](typed, user=user)


def shown(entry: OutboxEntry, user: User, sent: QueryDict | None = None) -> EntryForm | None:
    """The form of an entry that waits, with why, or as it was sent; None: nobody can open it.

    Where the telephone's clock was in doubt, the day and the hour are those most likely meant.
    """
    if entry.state == EntryState.UNREAD:
        return None
    if sent is not None:
        form = FORMS[entry.said["typed"]["kind"]](sent, user=user)
    else:
        form = form_of(entry, user, **_likely(entry))
    form.action = reverse("today:entry", args=[entry.pk])
    if sent is None and form.is_valid() and entry.said.get("codes"):
        form.refuse(Refused(*entry.said["codes"]))
    return form


def _likely(entry: OutboxEntry) -> dict[str, str]:
    typed = entry.said["typed"]
    if "wrong_now" not in entry.said["doubts"] or not (entry.written_at and entry.phone_at):
        return {}
    try:
        said = datetime.fromisoformat(f"{typed.get('day')}T{typed.get('hour', '12:00')}")
    except ValueError:
        return {}
    at = likely(timezone.make_aware(said), entry.written_at, entry.phone_at, entry.received_at)
    day = {"day": min(at.date(), today()).isoformat()}
    return {**day, "hour": f"{at:%H:%M}"} if "hour" in typed else day


def _key(token: str) -> UUID:
    """The token of a form as an entry's key; a new one where it is no token of ours."""
    try:
        return UUID(token)
    except ValueError:
        return uuid4()


def keep(typed: QueryDict, by: User) -> OutboxEntry:
    """In a travelling set: keep what was sent without a script, sealed to the register at home.

    Nothing is looked at here, as nothing is that a telephone seals; twice sent it is kept once.
    """
    at = timezone.now()
    said = {name: str(value) for name, value in typed.items() if name != "csrfmiddlewaretoken"}
    key = _key(said.pop("token", ""))
    said |= dict.fromkeys(("written_at", "known_at"), at.isoformat())
    return OutboxEntry.objects.get_or_create(
        pk=key,
        defaults={
            "state": EntryState.UNREAD,
            "by": by,
            "phone_at": at,
            "received_at": at,
            "said": {"sealed": seal(said, key)},
        },
    )[0]


@transaction.atomic
def settle(*, entry: OutboxEntry, form: EntryForm, by: User) -> str:
    """Act on an entry as its writer says now; the address it leads to.

    Refused: settled, not_yours, and what the action of its page refuses.
    """
    held = OutboxEntry.objects.select_for_update().get(pk=entry.pk)
    if held.state not in WAITS:
        raise Refused("settled")
    _may(by, form)
    address = form.act(by)
    _end(held, EntryState.DONE)
    return address


@transaction.atomic
def let_go(*, entry: OutboxEntry, by: User) -> None:
    """Its writer has dealt with it in another way; what was typed goes, the key and times stay.

    Of an entry that was acted on meanwhile nothing is left to let go.
    """
    held = OutboxEntry.objects.select_for_update().get(pk=entry.pk)
    if held.state in WAITS:
        _end(held, EntryState.LET_GO)
        note(by, "outbox_let_go", "privacy.outboxentry", entry.pk)


def _end(entry: OutboxEntry, state: EntryState) -> None:
    entry.state, entry.said = state, {}
    entry.save(update_fields=["state", "said"])
