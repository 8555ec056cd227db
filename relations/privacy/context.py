"""What every page shows beside its own matter: who is signed in, the ways on, rehearsal or real."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Any

from django.http import HttpRequest
from django.urls import NoReverseMatch, URLResolver, get_resolver, get_urlconf, reverse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from .home import home
from .models import Role, User

# Routes belong to higher rooms: they are known here by name only, and left out where absent.
NAV: tuple[tuple[str, Promise], ...] = (
    ("consent:list", _("Forms")),
    ("pictures:list", _("Pictures")),
    ("uses:plans", _("Clearing")),
    ("referrals:introductions", _("Introductions")),
    ("consent:wordings", _("Wordings")),
    ("meetings:trips", _("Trips")),
    ("privacy:accounts", _("Accounts")),
)
BAR: tuple[tuple[str, Promise], ...] = (
    ("today:today", _("Today")),
    ("people:list", _("People")),
    ("prints:owed", _("Prints owed")),
    ("uses:stop_whom", _("Stop / Hold")),
    ("rights:alarm", _("Alarm")),
)
# In a travelling set a stop is written down: its page of a stop would refuse every press.
WRITTEN: tuple[str, Promise] = ("today:write", _("Stop"))
# What the masthead calls a screen that shows less than the artist's.
COPIES: dict[str, Promise] = {
    Role.ASSISTANT: _("assistant’s copy"),
    Role.WORDING_READER: _("reader’s copy"),
    Role.KEEPER: _("keeper’s copy"),
}
MARKS = {"uses:stop_whom": "stop", "today:write": "stop", "rights:alarm": "risk"}


@dataclass(frozen=True)
class Way:
    """One link that is on every page."""

    url: str
    label: Promise
    mark: str
    current: bool


@cache
def _open_to(resolver: URLResolver, url: str) -> Iterable[str] | None:
    """The roles a page is open to; None: anybody. Looked up once: the addresses do not change."""
    return getattr(resolver.resolve(url).func, "roles", None)


def _ways(routes: Iterable[tuple[str, Promise]], user: User, request: HttpRequest) -> list[Way]:
    """The routes that exist and are open to this user's role."""
    found = []
    for route, label in routes:
        try:
            url = reverse(route)
        except NoReverseMatch:
            continue
        allowed = _open_to(get_resolver(get_urlconf()), url)
        if allowed is None or user.role in allowed:
            found.append(Way(url, label, MARKS.get(route, ""), current=url == request.path))
    return found


def page(request: HttpRequest) -> dict[str, Any]:
    """Context of every template: `user`, `role`, `who`, `role_copy`, `nav`, `bar`, `is_rehearsal`.

    `user` is None for a stranger; `nav` is filled for the artist, `bar` for all signed in.
    """
    seen = getattr(request, "user", None)
    user = seen if isinstance(seen, User) else None
    bar = [WRITTEN if home().travelling and way[0] == "uses:stop_whom" else way for way in BAR]
    return {
        "user": user,
        "role": user.role if user else "",
        "who": user.called if user else "",
        "role_copy": COPIES.get(user.role, "") if user else "",
        "nav": _ways(NAV, user, request) if user and user.is_artist else [],
        "bar": _ways(bar, user, request) if user else [],
        "is_rehearsal": home().is_rehearsal,
        "travelling": home().travelling,
    }
