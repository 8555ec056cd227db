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
from relations.documents.render import LaidOut

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


def _is_heard() -> bool:
    heard = [one for one in _handlers() if isinstance(one, render._Collector)]
    return any(one.letters or one.lines for one in heard)


def _handlers() -> list[logging.Handler]:
    return logging.getLogger("weasyprint").handlers
