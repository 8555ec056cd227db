"""Signing in and out, the page that shows nothing, and what is said when a form went stale."""

from django.conf import settings
from django.contrib.auth import login, logout
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render, resolve_url
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from .answering import again, typed
from .forms import SignInForm
from .log import note
from .models import User


def _next_address(request: HttpRequest) -> str:
    """Where a person wanted to go, when that is on this site; else the first page."""
    wanted = request.GET.get("next", "")
    is_ours = url_has_allowed_host_and_scheme(
        wanted, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return wanted if is_ours else resolve_url(settings.LOGIN_REDIRECT_URL)


@sensitive_post_parameters("password")
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    if isinstance(request.user, User):
        return redirect(_next_address(request))
    form = SignInForm(typed(request), request=request)
    if form.is_valid() and form.user:
        login(request, form.user)
        note(form.user, "signed_in", "privacy.user", form.user.pk)
        return redirect(_next_address(request))
    return again(request, "privacy/sign_in.html", form)


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """The way out and the quick hide in one: nothing of the site stays in the browser."""
    if isinstance(request.user, User):
        note(request.user, "signed_out", "privacy.user", request.user.pk)
    logout(request)
    response: HttpResponseRedirect = HttpResponseRedirect(resolve_url("privacy:away"))
    response.headers["Clear-Site-Data"] = '"cache", "cookies"'
    return response


@require_safe
def away(request: HttpRequest) -> HttpResponse:
    """A page that says nothing about the site."""
    return render(request, "privacy/away.html")


@require_safe
def no_icon(request: HttpRequest) -> HttpResponse:
    """Answers the browser that asks for an icon where a page names none."""
    return HttpResponse(status=204)


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:
    """An old tab, or a form from elsewhere: nothing was done."""
    return render(request, "privacy/csrf.html", status=403)
