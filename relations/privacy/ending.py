"""When a session ends: all of somebody's at once, or each by itself after its total time."""

from collections.abc import Callable, Iterable

from django.conf import settings
from django.contrib.auth import SESSION_KEY, logout
from django.contrib.sessions.models import Session
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from .models import User

BEGAN = "began_at"
# When the password and when a code was last given.
SURE_AT, CODED_AT = "sure_at", "coded_at"


def end_sessions(users: Iterable[User]) -> int:
    """End every open session of these users and give how many there were.

    Who a session is of stands inside it, so each is opened; there are never more than a few.
    """
    keys = {str(user.pk) for user in users}
    open_now = Session.objects.all()
    gone = [row.session_key for row in open_now if row.get_decoded().get(SESSION_KEY, "") in keys]
    Session.objects.filter(session_key__in=gone).delete()
    return len(gone)


def end_every_session() -> int:
    """End all that is open anywhere, of whomever, and give how many sessions there were.

    Those of a venue and of somebody between password and code too: after a loss nobody can say
    on which device one of them stands.
    """
    ended, _ = Session.objects.all().delete()
    return ended


def begin(request: HttpRequest) -> None:
    """Note when a session began; whoever began it has just given the password."""
    request.session[BEGAN] = request.session[SURE_AT] = timezone.now().timestamp()


class EndingMiddleware:
    """Signs out whoever has been signed in for the total time, busy or not."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if isinstance(request.user, User):
            now = timezone.now().timestamp()
            began = request.session.setdefault(BEGAN, now)
            if now - began >= settings.SESSION_TOTAL_AGE:
                logout(request)
        return self.get_response(request)
