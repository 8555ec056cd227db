"""Who may open a page at all; which rows they see in it is the question of each room's door."""

from collections.abc import Callable
from functools import wraps
from typing import Concatenate, ParamSpec, cast
from urllib.parse import urlsplit
from uuid import UUID

from django.conf import settings
from django.contrib.auth.views import redirect_to_login
from django.http import Http404, HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, resolve_url
from django.urls import reverse
from django.utils import timezone
from django.utils.crypto import constant_time_compare
from django.utils.http import url_has_allowed_host_and_scheme

from .ending import SURE
from .models import Role, User

P = ParamSpec("P")
View = Callable[Concatenate[HttpRequest, P], HttpResponseBase]

# Whose hands do the work, and all who may sign in.
HANDS = (Role.ARTIST, Role.ASSISTANT)
EVERYONE = (*HANDS, Role.WORDING_READER, Role.KEEPER)
# Whom artist and keeper add, give a password and let go. Neither takes over the other by the site.
HELPED = (Role.ASSISTANT, Role.WORDING_READER)
# In the session, between the password and the code.
HALF, HALF_MINUTES = "half_in", 10


def roles(*allowed: Role) -> Callable[[View[P]], View[P]]:
    """Open a view to signed-in users in one of `allowed`.

    A stranger is led to the sign-in page. Another role gets the same 404 as for a page that
    does not exist. The view keeps the roles as its attribute `roles`.
    """
    if not allowed:
        raise ValueError("a page is open to at least one role")

    def guard(view: View[P]) -> View[P]:
        @wraps(view)
        def guarded(request: HttpRequest, *args: P.args, **kwargs: P.kwargs) -> HttpResponseBase:
            user = request.user
            if not isinstance(user, User) or not user.is_active:
                return redirect_to_login(request.get_full_path(), reverse("privacy:sign_in"))
            if user.role not in allowed:
                raise Http404
            return view(request, *args, **kwargs)

        guarded.roles = frozenset(allowed)  # type: ignore[attr-defined] # read by the house tests
        return cast("View[P]", guarded)

    return guard


def sure_within(minutes: int) -> Callable[[View[P]], View[P]]:
    """Open a view to whoever gave their password within so many minutes; it stands under `roles`.

    Anybody else is led to give it, and back to the page they came from. For what leaves the house
    or cannot be undone: exports, unmasking, sign-off, accounts. Never for Stop, Hold or Alarm.
    The view keeps the minutes as its attribute `sure`.
    """

    def guard(view: View[P]) -> View[P]:
        @wraps(view)
        def guarded(request: HttpRequest, *args: P.args, **kwargs: P.kwargs) -> HttpResponseBase:
            age = timezone.now().timestamp() - request.session.get(SURE, 0)
            if 0 <= age < minutes * 60:
                return view(request, *args, **kwargs)
            return redirect_to_login(_page_at_hand(request), reverse("privacy:sure"))

        guarded.sure = minutes  # type: ignore[attr-defined] # read by the house tests
        return cast("View[P]", guarded)

    return guard


def _page_at_hand(request: HttpRequest) -> str:
    """The page that is open; of something sent, the page it was sent from, to be sent again."""
    if request.method in {"GET", "HEAD"}:
        return request.get_full_path()
    came_from = request.headers.get("Referer", "")
    is_ours = url_has_allowed_host_and_scheme(came_from, allowed_hosts={request.get_host()})
    return urlsplit(came_from).path if is_ours else resolve_url(settings.LOGIN_REDIRECT_URL)


def account(key: UUID) -> User:
    """The user with this key, for the pages of artist and keeper; 404 where there is none."""
    return get_object_or_404(User, pk=key)


def helped_account(key: UUID) -> User:
    """The same, of a role that artist and keeper may change or give a password to."""
    return get_object_or_404(User, pk=key, role__in=HELPED)


def half_in(request: HttpRequest, user: User) -> None:
    """Note in a new session whose password fitted; nothing opens before the code fits too."""
    request.session.cycle_key()
    request.session[HALF] = [
        str(user.pk),
        timezone.now().timestamp(),
        user.get_session_auth_hash(),
    ]


def who_is_half_in(request: HttpRequest) -> User | None:
    """Whose password fitted within ten minutes, and still is the same."""
    key, at, proof = request.session.get(HALF) or ("", 0.0, "")
    if not 0 <= timezone.now().timestamp() - at < HALF_MINUTES * 60:
        return None
    user = User.objects.filter(pk=key, is_active=True).first()
    is_same = user and constant_time_compare(proof, user.get_session_auth_hash())
    return user if is_same else None
