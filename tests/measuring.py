"""What the measure of coverage need not look at: libraries that call nothing of ours, or little.

While a tracer looks, the interpreter runs every line of every library at half its pace.
"""

import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from functools import wraps
from typing import Any
from unittest import mock

from django.db.models import Model, QuerySet
from django.db.models.deletion import Collector
from django.db.models.sql import compiler

# Where the whole of Django's layer of rows is entered. Of ours it calls what is in `privacy`,
# fields and the cipher's cursor, whose own tests have the tracer look on.
ROWS = (
    (QuerySet, "_fetch_all"),
    (QuerySet, "_filter_or_exclude_inplace"),
    (Model, "save_base"),
    (Collector, "collect"),
    (compiler.SQLCompiler, "execute_sql"),
    (compiler.SQLInsertCompiler, "execute_sql"),
    (compiler.SQLUpdateCompiler, "execute_sql"),
)


def unmeasured(function: Callable[..., Any], *said: Any, **named: Any) -> Any:
    """Call something while no tracer of this thread looks; it looks on afterwards."""
    tracer = sys.gettrace()
    if tracer is None:
        return function(*said, **named)
    sys.settrace(None)
    try:
        return function(*said, **named)
    finally:
        sys.settrace(tracer)


@contextmanager
def rows_unmeasured() -> Iterator[None]:
    """Inside, no tracer looks into Django's layer of rows."""
    if sys.gettrace() is None:
        yield
        return
    with ExitStack() as patches:
        for owner, name in ROWS:
            patches.enter_context(mock.patch.object(owner, name, _aside(getattr(owner, name))))
        yield


def _aside(method: Callable[..., Any]) -> Callable[..., Any]:
    @wraps(method)
    def aside(*said: Any, **named: Any) -> Any:
        return unmeasured(method, *said, **named)

    return aside
