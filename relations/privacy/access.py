"""Who may open a page at all; which rows they see in it is the question of each room's door."""

from collections.abc import Callable
from functools import wraps
from typing import Concatenate, ParamSpec, cast
from uuid import UUID

from django.contrib.auth.views import redirect_to_login
from django.http import Http404, HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.crypto import constant_time_compare

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
    does not exist. Whoever has yet to choose a password or set up codes is led there first, but
    from an `open_first` view. The view keeps the roles as its attribute `roles`.
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
            first = first_thing(user)
            if first and not getattr(view, "open_first", False):
                return redirect(first)
            return view(request, *args, **kwargs)

        guarded.roles = frozenset(allowed)  # type: ignore[attr-defined] # read by the house tests
        return cast("View[P]", guarded)

    return guard


def open_first(view: View[P]) -> View[P]:
    """Open a view also to whoever has yet to choose a password or set up codes; under `roles`.

    For the pages where that is done, and for Stop, Hold and Alarm, which wait for nothing. The
    view keeps it as its attribute `open_first`.
    """
    view.open_first = True  # type: ignore[attr-defined] # read by `roles` and the house tests
    return view


def first_thing(user: User) -> str:
    """The page to which every other leads until it is done; empty where nothing is to be done."""
    if user.must_choose_password:
        return "privacy:password"
    return "privacy:own" if user.must_set_up_codes else ""


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
