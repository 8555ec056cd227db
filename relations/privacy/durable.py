"""Whether what a page has acknowledged is on the disk, asked of the database that is in use."""

from django.db import connection

# PRAGMA synchronous: from FULL on, each commit in the journal is on the disk.
FULL = 2
# What a commit may wait for (PostgreSQL 15, chapter 20.5.1): each of these flushes here first.
FLUSHED = frozenset({"on", "local", "remote_write", "remote_apply"})


def forgets() -> list[str]:
    """The settings by which the database may lose what it acknowledged; empty: none.

    Asked of this connection, since what a file or a server is set to may be set otherwise for it.
    A register in memory, as tests have it, keeps nothing and is not asked.
    """
    if connection.vendor == "postgresql":
        return _server_forgets()
    if connection.is_in_memory_db():  # type: ignore[attr-defined] # of the embedded one
        return []
    return _file_forgets()


def checks_pages() -> bool:
    """Whether a flipped bit in what is not sealed shows: always in the embedded file."""
    return connection.vendor != "postgresql" or _said("SHOW data_checksums") == "on"


def _said(question: str) -> str:
    with connection.cursor() as cursor:
        cursor.execute(question)
        return str(cursor.fetchone()[0])


def _server_forgets() -> list[str]:
    found = [name for name in ("fsync", "full_page_writes") if _said(f"SHOW {name}") != "on"]
    if _said("SHOW synchronous_commit") not in FLUSHED:
        found.append("synchronous_commit")
    return found


def _file_forgets() -> list[str]:
    found = []
    if int(_said("PRAGMA synchronous")) < FULL:
        found.append("synchronous")
    if _said("PRAGMA journal_mode") != "wal":
        found.append("journal_mode")
    return found
