"""What everybody who signs in does for themselves: the password, and a device that shows codes."""

from io import BytesIO
from typing import Any

import segno
from django.contrib.auth import update_session_auth_hash
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from . import actions, codes, devices, queries
from .access import EVERYONE, open_first, roles
from .account_forms import MannerForm, PasswordForm, PressForm, screen_languages
from .account_views import CARERS
from .answering import again, answer, typed, who
from .forms import CodeForm
from .models import User
from .sureness import SURE, sure_within
from .views import FORM_METHODS


def _shown(user: User) -> dict[str, Any]:
    return {
        "account": queries.account(user),
        "is_carer": user.is_one_of(*CARERS),
        "languages": screen_languages(),
        "manner": MannerForm(initial={"figures": user.figures, "calendar": user.calendar}),
        "now": timezone.now(),
    }


def _on_paper(request: HttpRequest, made: list[str]) -> HttpResponse:
    """Ten codes, shown this once."""
    shown = [codes.in_groups(code) for code in made]
    return render(request, "privacy/paper_codes.html", {"codes": shown})


@roles(*EVERYONE)
@open_first
@require_safe
def own(request: HttpRequest) -> HttpResponse:
    """How one signs in, and the ways to change it."""
    context = {**_shown(who(request)), "form": PressForm()}
    return render(request, "privacy/own.html", context)


@roles(*EVERYONE)
@open_first
@require_POST
def language(request: HttpRequest) -> HttpResponse:
    """The language, figures and second calendar of this user, from the next page on."""
    user, form = who(request), MannerForm(typed(request), path=request.path)

    def act() -> str:
        actions.choose_manner(user=user, **form.typed_in("language", "figures", "calendar"))
        return reverse("privacy:own")

    return answer(request, "privacy/own.html", form, act, **_shown(user))


@roles(*EVERYONE)
@open_first
@sensitive_post_parameters("password")
@sure_within(SURE)
@require_http_methods(FORM_METHODS)
def password(request: HttpRequest) -> HttpResponse:
    """A new password of one's own; the other devices are signed out."""
    user = who(request)
    form = PasswordForm(typed(request), user=user)

    def act() -> str:
        actions.change_password(user=user, **form.typed_in("password"))
        update_session_auth_hash(request, user)
        return reverse("privacy:own")

    return answer(request, "privacy/password.html", form, act)


@roles(*EVERYONE)
@open_first
@sure_within(SURE)
@require_POST
def new_code_device(request: HttpRequest) -> HttpResponse:
    """Begin to set up a device that shows codes."""
    form = PressForm(typed(request), path=request.path)

    def act() -> str:
        devices.begin(user=who(request))
        return reverse("privacy:code_device")

    return answer(request, "privacy/own.html", form, act, **_shown(who(request)))


@roles(*EVERYONE)
@sure_within(SURE)
@require_POST
def new_paper(request: HttpRequest) -> HttpResponse:
    """Ten new codes on paper, where the old ones are used up or lost."""
    user, form = who(request), PressForm(typed(request), path=request.path)
    made: list[str] = []

    def act() -> str:
        made.extend(actions.renew_paper(user=user))
        return reverse("privacy:own")

    pressed = answer(request, "privacy/own.html", form, act, **_shown(user))
    return _on_paper(request, made) if made else pressed


@roles(*EVERYONE)
@open_first
@sensitive_post_parameters("code")
@sure_within(SURE)
@require_http_methods(FORM_METHODS)
def code_device(request: HttpRequest) -> HttpResponse:
    """Take the secret into a device, give its first code; then the paper codes, this once."""
    user = who(request)
    device = devices.pending(user)
    if device is None:
        return redirect("privacy:own")
    paper: list[str] = []

    def accepts(said: str) -> bool:
        paper.extend(devices.set_up(device=device, said=said) or [])
        return bool(paper)

    form = CodeForm(typed(request), accepts=accepts)
    if form.is_valid():
        return _on_paper(request, paper)
    context = {
        "secret": codes.in_groups(device.secret),
        "address": codes.device_address(device.secret, user.username),
    }
    return again(request, "privacy/code_device.html", form, **context)


@roles(*EVERYONE)
@open_first
@sure_within(SURE)
@require_safe
def code_picture(request: HttpRequest) -> HttpResponse:
    """The secret as a square code, while a device is being set up."""
    user = who(request)
    device = devices.pending(user)
    if device is None:
        raise Http404
    drawn = BytesIO()
    square = segno.make(codes.device_address(device.secret, user.username), micro=False)
    square.save(drawn, kind="svg", scale=5, border=4, light="white", xmldecl=False)
    return HttpResponse(drawn.getvalue(), content_type="image/svg+xml")
