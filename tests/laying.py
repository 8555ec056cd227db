"""Papers laid out for tests of something else: the same page once, and nothing of it measured.

The engine is not ours, and under the measure of coverage a paper costs it twice the time. What we
do inside it (fonts, tags, what it may fetch) is held and measured by tests/documents, which has
the site as it is; tests/documents/test_render.py holds that the same page is the same bytes.
"""

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any
from unittest import mock

from relations.documents import render
from tests.measuring import unmeasured

MOST = 200  # papers kept: about 20 MB
_kept: dict[tuple, Any] = {}


@contextmanager
def each_page_once() -> Iterator[None]:
    """Inside, a page that was laid out before is not laid out again unless the engine complained.

    Callers hold the site's own lock around it.
    """
    write = render._write

    def written(*said: Any) -> Any:
        *words, attached, most = said
        key = (*words, tuple(attached), most)
        if key not in _kept:
            made = unmeasured(write, *said)
            if _was_heard():
                return made
            if len(_kept) >= MOST:
                _kept.pop(next(iter(_kept)))
            _kept[key] = made
        return _kept[key]

    with mock.patch.object(render, "_write", written):
        yield


def _was_heard() -> bool:
    """Whether the engine said anything of the paper at hand: then the next one hears it, too."""
    collectors = logging.getLogger("weasyprint").handlers
    return any(collector.lines or collector.letters for collector in collectors)
