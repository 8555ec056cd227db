"""Asks the password or the code again, before what leaves the house or cannot be undone."""

from collections.abc import Callable
from functools import wraps
from typing import Any, cast

from django.contrib.auth.views import redirect_to_login
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone

from . import devices, tries
from .access import P, View
from .answering import calmly, who
from .ending import CODED_AT, SURE_AT
from .forms import CodeForm, SureForm
from .log import note

# Minutes after which the password is asked again.
SURE = 10
LOOKING = ("GET", "HEAD")
# Of the fields on the page that asks, so that what is carried along keeps its own names.
PREFIX = "sure"


def password_form(request: HttpRequest, **rest: Any) -> SureForm:
    """The password of whoever is signed in; to check it raises HeldOff where no try is open."""
    form = SureForm(request=request, user=who(request), **rest)
    # The page draws the form round it, with what is carried along.
    form.helper.form_tag = False
    return form


def _code_form(request: HttpRequest, **rest: Any) -> CodeForm:
    user = who(request)

    def accepts(said: str) -> bool:
        fits = tries.attempt(request, user.username, lambda: devices.accepts(user, said) or None)
        return fits is not None

    form = CodeForm(accepts=accepts, **rest)
    form.helper.form_tag = False
    return form


FORMS: dict[str, Callable[..., SureForm | CodeForm]] = {
    SURE_AT: password_form,
    CODED_AT: _code_form,
}


def made_sure(request: HttpRequest, how: str) -> None:
    """Keep that the password (SURE_AT) or the code (CODED_AT) was given now; it is logged."""
    user = who(request)
    tries.forget(request, user.username)
    request.session.cycle_key()
    request.session[how] = timezone.now().timestamp()
    note(user, "made_sure", "privacy.user", user.pk)


@calmly
def _ask(request: HttpRequest, minutes: int, *, by_code: bool = False) -> HttpResponse | None:
    """The page that asks, or None where it was answered within so many minutes, or is now.

    Who gives no codes is asked the password in their place. To look is led to a page of its own;
    what was sent waits in the page that asks and is sent on with the answer.
    """
    how = CODED_AT if by_code and who(request).asks_code else SURE_AT
    age = timezone.now().timestamp() - request.session.get(how, 0)
    if 0 <= age < minutes * 60:
        return None
    if request.method in LOOKING:
        return redirect_to_login(request.get_full_path(), reverse("privacy:sure"))
    answered = any(name.startswith(f"{PREFIX}-") for name in request.POST)
    form = FORMS[how](request, data=request.POST if answered else None, prefix=PREFIX)
    if form.is_valid():
        made_sure(request, how)
        return None
    context = {
        "form": form,
        "carried": _carried(request),
        "dropped": _unsaid(request),
        "by_code": how == CODED_AT,
    }
    return render(request, "privacy/sure.html", context, status=422 if answered else 403)


def _carried(request: HttpRequest) -> list[tuple[str, str]]:
    """What was sent, to be sent on; but for what belongs to the page that asks."""
    left = {"csrfmiddlewaretoken", *_unsaid(request)}
    return [
        (name, value)
        for name, values in request.POST.lists()
        for value in values
        if name not in left and not name.startswith(f"{PREFIX}-")
    ]


def _unsaid(request: HttpRequest) -> set[str]:
    """The passwords and codes in what was sent, which are written into no page."""
    unsaid = getattr(request, "sensitive_post_parameters", ())
    sent = set(request.POST)
    return sent if unsaid == "__ALL__" else sent.intersection(unsaid)


def sure_within(
    minutes: int, *, sent_only: bool = False, by_code: bool = False
) -> Callable[[View[P]], View[P]]:
    """Open a view to whoever gave their password within so many minutes; it stands under `roles`.

    Anybody else is asked for it, and then led on with all they sent. For what leaves the house or
    cannot be undone: exports, unmasking, sign-off, accounts. Never for Stop, Hold or Alarm.
    `sent_only`: to look is free. `by_code`: that too, and who gives codes gives another.
    The view keeps the minutes as its attribute `sure`, the rest as `sure_sent_only`.
    """

    sent_only = sent_only or by_code

    def guard(view: View[P]) -> View[P]:
        @wraps(view)
        def guarded(request: HttpRequest, *args: P.args, **kwargs: P.kwargs) -> HttpResponseBase:
            is_free = sent_only and request.method in LOOKING
            page = None if is_free else _ask(request, minutes, by_code=by_code)
            return page or view(request, *args, **kwargs)

        guarded.sure = minutes  # type: ignore[attr-defined] # read by the house tests
        guarded.sure_sent_only = sent_only  # type: ignore[attr-defined]
        return cast("View[P]", guarded)

    return guard
