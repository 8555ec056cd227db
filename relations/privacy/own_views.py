"""What everybody who signs in does for themselves: the password, and a device that shows codes."""

from io import BytesIO

import segno
from django.contrib.auth import update_session_auth_hash
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from . import actions, codes, devices, queries
from .access import EVERYONE, roles, sure_within
from .account_forms import PasswordForm
from .account_views import CARERS, SURE
from .answering import again, typed, who
from .forms import CodeForm
from .views import FORM_METHODS


@roles(*EVERYONE)
@require_safe
def own(request: HttpRequest) -> HttpResponse:
    """How one signs in, and the ways to change it."""
    user = who(request)
    context = {"account": queries.account(user), "is_carer": user.is_one_of(*CARERS)}
    return render(request, "privacy/own.html", context)


@roles(*EVERYONE)
@sure_within(SURE)
@sensitive_post_parameters("password")
@require_http_methods(FORM_METHODS)
def password(request: HttpRequest) -> HttpResponse:
    """A new password of one's own; the other devices are signed out."""
    user = who(request)
    form = PasswordForm(typed(request), user=user)
    if not form.is_valid():
        return again(request, "privacy/password.html", form)
    actions.change_password(user=user, password=form.cleaned_data["password"])
    update_session_auth_hash(request, user)
    return redirect("privacy:own")


@roles(*EVERYONE)
@sure_within(SURE)
@require_POST
def new_code_device(request: HttpRequest) -> HttpResponse:
    """Begin to set up a device that shows codes."""
    devices.begin(user=who(request))
    return redirect("privacy:code_device")


@roles(*EVERYONE)
@sure_within(SURE)
@sensitive_post_parameters("code")
@require_http_methods(FORM_METHODS)
def code_device(request: HttpRequest) -> HttpResponse:
    """Take the secret into a device, give its first code; then the paper codes, this once."""
    device = devices.pending(who(request))
    if device is None:
        return redirect("privacy:own")
    paper: list[str] = []

    def accepts(said: str) -> bool:
        paper.extend(devices.set_up(device=device, said=said) or [])
        return bool(paper)

    form = CodeForm(typed(request), accepts=accepts)
    if form.is_valid():
        shown = [codes.in_groups(code) for code in paper]
        return render(request, "privacy/paper_codes.html", {"codes": shown})
    secret = codes.in_groups(device.secret)
    return again(request, "privacy/code_device.html", form, secret=secret)


@roles(*EVERYONE)
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
