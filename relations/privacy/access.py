"""Who may open a page at all; which rows they see in it is the question of each room's door."""

from collections.abc import Callable
from functools import wraps
from typing import Concatenate, ParamSpec, cast

from django.contrib.auth.views import redirect_to_login
from django.http import Http404, HttpRequest, HttpResponseBase
from django.urls import reverse

from .models import Role, User

P = ParamSpec("P")
View = Callable[Concatenate[HttpRequest, P], HttpResponseBase]

# Whose hands do the work, and all who may sign in.
HANDS = (Role.ARTIST, Role.ASSISTANT)
EVERYONE = (*HANDS, Role.WORDING_READER, Role.KEEPER)


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
