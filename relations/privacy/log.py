"""The access log: lines chained by a keyed hash, so that a changed or missing one shows."""

import hmac
import json
import uuid
from datetime import UTC, datetime, timedelta

from django.db import connection, transaction
from django.utils import timezone

from . import heads
from .keys import keyring
from .models import AccessEntry, LogHead, User

KEPT = timedelta(days=366)  # twelve months, then pruned
OWN = "privacy.log"
ANCHOR, PRUNED = "anchor", "pruned"

WRITE = json.JSONEncoder(ensure_ascii=False, separators=(",", ":")).encode
# A line is written at every look at a row, and to put the same three statements together anew each
# time would cost more than the database takes to run them.
COLUMNS = AccessEntry._meta.concrete_fields  # in the order of the statement
ADD_LINE = (
    'INSERT INTO privacy_accessentry ("seq", "at", "by", "verb", "kind", "key", "mac")'
    " VALUES (%s, %s, %s, %s, %s, %s, %s)"
)
READ_HEAD = 'SELECT "seq", "mac" FROM privacy_loghead WHERE "only"'
MOVE_HEAD = 'UPDATE privacy_loghead SET "seq" = %s, "mac" = %s WHERE "only"'


def _mac(before: bytes, entry: AccessEntry) -> bytes:
    """HMAC-SHA256 over the hash before and the line in one fixed writing.

    Lines from before a rekey keep the key they were chained under. The first after it covers the
    hash of the last before it, so that who only knows the old key cannot change those either.
    """
    line = [
        entry.seq,
        entry.at.astimezone(UTC).isoformat(timespec="microseconds"),
        *(str(part) if part else "" for part in (entry.by, entry.verb, entry.kind, entry.key)),
    ]
    body = WRITE(line).encode()
    return hmac.digest(keyring.log_key(entry.seq), before + body, "sha256")


@transaction.atomic(savepoint=False)
def note(user: User | None, verb: str, kind: str, key: uuid.UUID | None) -> None:
    """Add one line: `user` (None: the site itself) did `verb` to the row `key` of `kind`.

    To be called inside the action's transaction, so that neither stands without the other.
    No value, name or number may be in it: the log outlives what it speaks of.
    """
    _append(user, verb, kind, key)


def _append(user: User | None, verb: str, kind: str, key: uuid.UUID | None) -> AccessEntry:
    seq, before = _locked_head()
    entry = AccessEntry(
        seq=seq + 1,
        at=timezone.now(),
        by=user.pk if user else None,
        verb=verb,
        kind=kind,
        key=key,
    )
    entry.mac = _mac(before, entry)
    _insert(entry)
    if heads.is_due(verb):
        # Only what is on the disk; a disk too full for the copy undoes nothing, but is said.
        mac = entry.mac.hex()
        transaction.on_commit(lambda: heads.keep(entry.seq, mac), robust=True)
    return entry


def _locked_head() -> tuple[int, bytes]:
    """Number and hash of the last line, held until the transaction ends."""
    lock = " FOR UPDATE" if connection.features.has_select_for_update else ""
    with connection.cursor() as cursor:
        cursor.execute(READ_HEAD + lock)
        row = cursor.fetchone()
    if row is None:
        kept, _ = LogHead.objects.select_for_update().get_or_create(only=True)
        row = kept.seq, kept.mac
    return row[0], bytes(row[1])


def _insert(entry: AccessEntry) -> None:
    """Write the line and, as the new head, its number and hash."""
    line = [field.get_db_prep_save(getattr(entry, field.attname), connection) for field in COLUMNS]
    with connection.cursor() as cursor:
        cursor.execute(ADD_LINE, line)
        cursor.execute(MOVE_HEAD, [line[0], line[-1]])


def verify() -> int | None:
    """The number of the first line that was changed, put in or taken out; None when all stand.

    Where the log was pruned it begins with an anchor; a later line must say that it was. Lines
    cut off at the end together with a head set back to fit cannot be seen from inside: that is
    what `missing_head` is for.
    """
    before, seq = b"", 0
    anchor: AccessEntry | None = None
    prunings: dict[uuid.UUID | None, datetime] = {}
    for entry in AccessEntry.objects.order_by("seq").iterator(chunk_size=2000):
        if not seq and entry.verb == ANCHOR and entry.kind == OWN:
            anchor, seq, before = entry, entry.seq, bytes(entry.mac)
            continue
        seq += 1
        mac = _mac(before, entry)
        if entry.seq != seq or not hmac.compare_digest(mac, bytes(entry.mac)):
            return seq
        if entry.verb == PRUNED and entry.kind == OWN:
            prunings[entry.key] = entry.at
        before = mac
    if anchor and not _is_vouched_for(anchor, prunings):
        return anchor.seq
    return None if head() == (seq, before.hex()) else seq + 1


def _is_vouched_for(anchor: AccessEntry, prunings: dict[uuid.UUID | None, datetime]) -> bool:
    """Whether a line of the chain says that the site itself pruned up to this anchor."""
    said = (prunings.get(uuid.UUID(int=anchor.seq)), None, None)
    return said == (anchor.at, anchor.by, anchor.key)


def head() -> tuple[int, str]:
    """Number and hash of the last line, to be kept outside the site."""
    kept = LogHead.objects.filter(only=True).first()
    return (kept.seq, bytes(kept.mac).hex()) if kept else (0, "")


def missing_head() -> int | None:
    """The first line that the heads kept outside know and the log does not; None when it has all.

    Heads of lines that were pruned are passed over.
    """
    kept = sorted(heads.read())
    first = AccessEntry.objects.order_by("seq").values_list("seq", flat=True).first()
    start, end = first or 0, head()[0]
    for at in range(0, len(kept), 500):
        batch = [(seq, mac) for seq, mac in kept[at : at + 500] if seq >= start]
        rows = AccessEntry.objects.filter(seq__in=[seq for seq, _ in batch])
        there = {seq: bytes(mac).hex() for seq, mac in rows.values_list("seq", "mac")}
        for seq, mac in batch:
            if there.get(seq) != mac:
                return min(seq, end + 1)
    return None


def broken_at() -> int | None:
    """The first line that does not stand, by the chain and by the heads; None when all do."""
    breaks = [seq for seq in (verify(), missing_head()) if seq is not None]
    return min(breaks, default=None)


@transaction.atomic
def prune(before: datetime) -> int:
    """Let the lines from before that moment go; return how many.

    The last of them stays as an anchor, emptied but for its number and its hash, to which the
    next line is chained. A new line, which only a holder of the key can write, says up to which
    number was pruned: lines taken out by anybody else still show. Check the log first: what is
    gone cannot be checked any more.
    """
    LogHead.objects.select_for_update().filter(only=True).first()
    stays = AccessEntry.objects.filter(at__gte=before).order_by("seq").first()
    seq = stays.seq - 1 if stays else head()[0]
    going = AccessEntry.objects.filter(seq__lte=seq)
    lines = going.exclude(verb=ANCHOR, kind=OWN).count()
    if not lines:
        return 0
    said = _append(None, PRUNED, OWN, uuid.UUID(int=seq))
    going.filter(seq__lt=seq).delete()
    going.update(verb=ANCHOR, kind=OWN, by=None, key=None, at=said.at)
    transaction.on_commit(lambda: heads.forget_before(seq))
    return lines
