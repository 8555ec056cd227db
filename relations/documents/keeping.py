"""The very bytes that were printed: sealed with their SHA-256, and never laid out again."""

import hashlib
from collections.abc import Iterator
from contextlib import contextmanager, suppress

from relations.privacy.crypt import SealBroken
from relations.privacy.files import scans

from .models import Sheet


class NotAsKeptError(RuntimeError):
    """The kept bytes of a paper are gone, or are not those whose digest stands in its row."""


@contextmanager
def all_or_none(names: list[str]) -> Iterator[None]:
    """Let go of the files that were sealed meanwhile where the rows that name them cannot stand."""
    try:
        yield
    except BaseException:
        for name in names:
            with suppress(FileNotFoundError):
                scans().delete(name)
        raise


def keep(content: bytes) -> tuple[str, str]:
    """Seal what was printed; give the file's name and the SHA-256 of the clear bytes in hex."""
    return scans().save(content), hashlib.sha256(content).hexdigest()


def content(sheet: Sheet) -> bytes | None:
    """The bytes as they were printed, or None for a paper from before they were kept.

    Raise NotAsKeptError where the file is gone, damaged, or another paper's.
    """
    if not sheet.kept:
        return None
    try:
        with scans().open(sheet.kept) as opened:
            found = bytes(opened.read())
    except (FileNotFoundError, SealBroken) as error:
        raise NotAsKeptError from error
    if hashlib.sha256(found).hexdigest() != sheet.digest:
        raise NotAsKeptError
    return found
