"""In a travelling set all is read only but the outbox: what is noted there goes home once."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from .home import home

# Signing in and out, the clock, one's language; the outbox itself; an alarm, which ends what is
# open here; and a number, which is shown by a press that leaves a line in the set's own log.
OPEN = frozenset(
    {
        *("privacy:sign_in", "privacy:code", "privacy:sign_out", "privacy:away", "privacy:sure"),
        *("privacy:clock", "privacy:language", "privacy:speak"),
        *("today:send", "today:write", "rights:alarm", "people:show_number"),
    }
)


class ReadingOnlyMiddleware:
    """Answers every other press of a set with the way to the outbox, and writes nothing."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(self, request: HttpRequest, *_: object) -> HttpResponse | None:
        if home().travelling is None or request.method in {"GET", "HEAD"}:
            return None
        match = request.resolver_match
        if match and match.view_name in OPEN:
            return None
        return render(request, "privacy/reading_only.html", {"typed": _words(request)}, status=403)


def _words(request: HttpRequest) -> list[str]:
    """The sentences that were typed, to be copied; no file is read, and no password shown."""
    if request.content_type != "application/x-www-form-urlencoded":
        return []
    said = (text for name, text in request.POST.items() if "password" not in name)
    return [str(text) for text in said if len(str(text).split()) > 1]
