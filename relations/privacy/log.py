"""The access log: lines chained by a keyed hash, so that a changed or missing one shows."""

import hmac
import json
import uuid
from datetime import UTC

from django.db import transaction
from django.utils import timezone

from .keys import keyring
from .models import AccessEntry, LogHead, User


def _mac(before: bytes, entry: AccessEntry) -> bytes:
    """HMAC-SHA256 over the hash before and the line in one fixed writing."""
    line = [
        entry.seq,
        entry.at.astimezone(UTC).isoformat(timespec="microseconds"),
        *(str(part) if part else "" for part in (entry.by, entry.verb, entry.kind, entry.key)),
    ]
    body = json.dumps(line, ensure_ascii=False, separators=(",", ":")).encode()
    return hmac.digest(keyring.subkey("log"), before + body, "sha256")


@transaction.atomic
def note(user: User | None, verb: str, kind: str, key: uuid.UUID | None) -> None:
    """Add one line: `user` (None: the site itself) did `verb` to the row `key` of `kind`.

    To be called inside the action's transaction, so that neither stands without the other.
    No value, name or number may be in it: the log outlives what it speaks of.
    """
    head, _ = LogHead.objects.select_for_update().get_or_create(only=True)
    entry = AccessEntry(
        seq=head.seq + 1,
        at=timezone.now(),
        by=user.pk if user else None,
        verb=verb,
        kind=kind,
        key=key,
    )
    head.seq = entry.seq
    head.mac = entry.mac = _mac(bytes(head.mac), entry)
    entry.save(force_insert=True)
    head.save()


def verify() -> int | None:
    """The number of the first line that was changed, put in or taken out; None when all stand.

    Lines cut off at the end together with a head set back to fit cannot be seen from inside:
    compare `head()` with a copy kept elsewhere.
    """
    before, seq = b"", 0
    for entry in AccessEntry.objects.order_by("seq").iterator(chunk_size=2000):
        seq += 1
        mac = _mac(before, entry)
        if entry.seq != seq or not hmac.compare_digest(mac, bytes(entry.mac)):
            return seq
        before = mac
    return None if head() == (seq, before.hex()) else seq + 1


def head() -> tuple[int, str]:
    """Number and hash of the last line, to be kept outside the site."""
    kept = LogHead.objects.filter(only=True).first()
    return (kept.seq, bytes(kept.mac).hex()) if kept else (0, "")
