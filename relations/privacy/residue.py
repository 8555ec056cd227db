"""What an erased row leaves behind once it is gone: sealed files, free pages, the journal.

On the embedded database nothing stays: free pages are overwritten (`secure_delete`), and the
journal is taken over and emptied. On PostgreSQL the tables are written anew without what was
erased, where the site's user may do that, and nothing else is ours to clear: its write-ahead log,
archives of that and copies of the server's disk keep pages as they were until the server itself
lets go of them. There names, numbers, places in words and what was read on forms are sealed.
Readable are days and hours, codes, choices, languages, the lines of what to do, and the keys by
which rows of two people were tied to one another.
"""

import logging
from collections.abc import Iterable
from contextlib import suppress

from django.db import DatabaseError, connection

from .files import STORES
from .models import GoneFile, LedgerHead

SCANS, PICTURES = "scans", "pictures"
# How long a table may be waited for that somebody is reading; it is tried again at an opening.
PATIENCE = "5s"

logger = logging.getLogger(__name__)


def let_go(folder: str, names: Iterable[str]) -> None:
    """Note files that go once the transaction stands, also where a cut of power comes between."""
    GoneFile.objects.bulk_create(GoneFile(folder=folder, name=name) for name in names if name)


def clear(tables: Iterable[str]) -> None:
    """Clear what erased rows left in files and free pages, outside any transaction.

    What could not be cleared, because somebody was reading just then, is tried at the next
    opening: the ledger's head says up to which line nothing is left.
    """
    seq = LedgerHead.objects.values_list("seq", flat=True).get()
    remove_files()
    is_clear = _vacuum(tables) if connection.vendor == "postgresql" else _take_over_journal()
    if is_clear:
        LedgerHead.objects.filter(cleared__lt=seq).update(cleared=seq)


def remove_files() -> None:
    """Delete the files that were let go."""
    for gone in GoneFile.objects.all():
        with suppress(FileNotFoundError):
            STORES[gone.folder]().delete(gone.name)
        gone.delete()


def _take_over_journal() -> bool:
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        is_busy, _, _ = cursor.fetchone()
    return not is_busy


def _vacuum(tables: Iterable[str]) -> bool:
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT set_config('lock_timeout', %s, false)", [PATIENCE])
            for table in tables:
                cursor.execute(f"VACUUM (FULL) {connection.ops.quote_name(table)}")
            cursor.execute("RESET lock_timeout")
    except DatabaseError:
        # A table in use, or one that the site's user may not write anew.
        logger.warning("what was erased waits in free pages until the next opening")
        return False
    return True
