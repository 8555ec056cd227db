"""Lay out the same paper once: walks open each page for everybody, and its PDF is the same bytes.

Kept by all that the engine is given. tests/documents/test_render.py holds that the same is made
of the same each time; a paper of which the engine logs anything is not kept.
"""

import hashlib
import logging
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any
from unittest import mock

from relations.documents import render
from relations.documents.render import LaidOut, lay_out

KEPT: dict[str, LaidOut] = {}


@contextmanager
def papers_once() -> Iterator[None]:
    """Until the block ends, what was laid out in such a block before is given again."""
    write = render._write

    def once(*given: Any) -> LaidOut:
        key = hashlib.sha256(repr(given).encode()).hexdigest()
        if key not in KEPT:
            made = write(*given)
            if _is_heard():
                return made
            KEPT[key] = made
        return KEPT[key]

    with mock.patch.object(render, "_write", once):
        yield


@contextmanager
def blank_papers() -> Iterator[None]:
    """Until the block ends every paper is one blank sheet: where only HTML is looked at.

    That each paper is laid out for whoever may have it, test_pages.py holds.
    """
    blank = lay_out("<html lang=en><p>A sheet</p></html>", lang="en", title="1").content
    with mock.patch.object(render, "_write", lambda *_: LaidOut(blank, 1, ({},))):
        yield


def _is_heard() -> bool:
    heard = [one for one in _handlers() if isinstance(one, render._Collector)]
    return any(one.letters or one.lines for one in heard)


def _handlers() -> list[logging.Handler]:
    return logging.getLogger("weasyprint").handlers
