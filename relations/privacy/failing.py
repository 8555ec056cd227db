"""A full or read-only disk, a clock that is behind: one clear sentence, nothing by halves."""

import errno
import re
import sys
from collections.abc import Callable, Iterator
from datetime import datetime
from enum import StrEnum

from django.contrib.sessions.middleware import SessionMiddleware
from django.core.exceptions import BadRequest, SuspiciousOperation
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.http.request import UnreadablePostError
from django.template.loader import get_template
from django.utils import timezone, translation
from django.views.defaults import server_error

from . import clock
from .home import home
from .keys import Locked
from .models import User


class Why(StrEnum):
    """What keeps the site from writing."""

    FULL = "full"
    READ_ONLY = "read_only"
    BROKEN = "broken"
    CLOCK = "clock"


# How the system, the embedded database and the server (PostgreSQL 15, appendix A) say it.
NUMBERS = {
    errno.ENOSPC: Why.FULL,
    errno.EDQUOT: Why.FULL,
    errno.EROFS: Why.READ_ONLY,
    errno.EIO: Why.BROKEN,
}
SENTENCES = {
    "database or disk is full": Why.FULL,
    "attempt to write a readonly database": Why.READ_ONLY,
    # A journal beside the file must be written even by who only reads.
    "unable to open database file": Why.READ_ONLY,
    "disk I/O error": Why.BROKEN,
}
STATES = {"53100": Why.FULL, "25006": Why.READ_ONLY, "58030": Why.BROKEN}
STATUS = {Why.FULL: 507}
# What a press sends beside what was typed: codes, keys and numbers of steps.
CODE = re.compile(r"[a-z0-9_:]*|[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
Next = Callable[[HttpRequest], HttpResponse]


def why(error: BaseException | None) -> Why | None:
    """What kept the site from writing, by an exception or by what it came of; None: another."""
    for one in _came_of(error):
        found = STATES.get(getattr(one, "sqlstate", None) or "")
        if isinstance(one, OSError) and one.errno is not None:
            found = found or NUMBERS.get(one.errno)
        if isinstance(one, DatabaseError):
            found = found or SENTENCES.get(str(one).strip())
        if found:
            return found
    return None


def _came_of(error: BaseException | None) -> Iterator[BaseException]:
    seen: set[int] = set()
    while error is not None and id(error) not in seen:
        seen.add(id(error))
        yield error
        error = error.__cause__ or error.__context__


def answer(request: HttpRequest) -> HttpResponseBase:
    """The site's answer to any exception (handler500): for these, the page of this module."""
    found = why(sys.exc_info()[1])
    return page(request, found) if found else server_error(request)


def page(request: HttpRequest, found: Why, last: datetime | None = None) -> HttpResponse:
    """The sentence, and what was sent: to be sent again as it is, or copied onto paper.

    `last`: of which moment the last entry is, for a clock that is behind.
    """
    sent = _sent(request)
    context = {
        "why": found,
        "sent": sent,
        "typed": [value for _, value in sent if not CODE.fullmatch(value)],
        "had_file": bool(sent and request.FILES),
        "address": request.get_full_path(),
        "at": timezone.now(),
        "last": last,
        "is_rehearsal": home().is_rehearsal,
    }
    cached = getattr(request, "_cached_user", None)
    chosen = cached.language if isinstance(cached, User) else None
    with translation.override(chosen or translation.get_language_from_request(request)):
        response = HttpResponse(_drawn(context, request), status=STATUS.get(found, 503))
    response.headers["Retry-After"] = "60"
    if found is Why.CLOCK:
        # No fault of the site: Django would write an error line for each asking.
        response._has_been_logged = True  # type: ignore[attr-defined]
    return response


def _drawn(context: dict[str, object], request: HttpRequest) -> str:
    """With who is signed in, so that they can hide; without, where not even that can be read."""
    template = get_template("privacy/failing.html")
    try:
        return template.render(context, request)
    except (DatabaseError, OSError, Locked):
        return template.render(context)


def _sent(request: HttpRequest) -> list[tuple[str, str]]:
    """What a form sent, as it was, with its token; of the door, where secrets are, nothing."""
    match = request.resolver_match
    if request.method != "POST" or match is None or match.namespace == "privacy":
        return []
    try:
        posted = request.POST
    except (UnreadablePostError, SuspiciousOperation, BadRequest):
        return []
    return [
        (name, value)
        for name in posted
        if name != "csrfmiddlewaretoken"
        for value in posted.getlist(name)
    ]


class KeptSessionMiddleware(SessionMiddleware):
    """Where a session cannot be written, what was only read is shown all the same.

    The session then ends as if the page had not been opened: earlier, never later.
    """

    def process_response(self, request: HttpRequest, response: HttpResponse) -> HttpResponse:
        try:
            return super().process_response(request, response)
        except (DatabaseError, OSError) as error:
            is_read = request.method in {"GET", "HEAD"} or response.status_code >= 500
            if is_read and why(error):
                return response
            raise


class ClockMiddleware:
    """Nothing dated is taken in while this computer's clock is behind what the home knows.

    A wrong day would move a Stop's last day, a child's age and the end of a consent; a person who
    waits an hour loses less. A Stop, a Hold and an alarm are heard all the same.
    """

    def __init__(self, get_response: Next) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(self, request: HttpRequest, *_: object) -> HttpResponse | None:
        last = clock.refuses(request)
        return page(request, Why.CLOCK, last) if last else None
