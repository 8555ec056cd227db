"""Signing in and out, the page that shows nothing, and what is said when a form went stale."""

from django.conf import settings
from django.contrib.auth import login, logout
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render, resolve_url
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme, urlencode
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from . import access, clock, devices, ending, sureness, tries
from .access import EVERYONE, open_first, roles
from .account_forms import SpeakingForm, screen_languages
from .answering import again, calmly, typed
from .forms import CodeForm, SignInForm
from .log import note
from .models import User

FORM_METHODS = ["GET", "HEAD", "POST"]


def _next_address(request: HttpRequest) -> str:
    """Where a person wanted to go, when that is on this site; else the first page."""
    wanted = request.GET.get("next", "")
    is_ours = url_has_allowed_host_and_scheme(
        wanted, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return wanted if is_ours else resolve_url(settings.LOGIN_REDIRECT_URL)


@sensitive_post_parameters("password")
@require_http_methods(FORM_METHODS)
@calmly
def sign_in(request: HttpRequest) -> HttpResponse:
    if isinstance(request.user, User):
        return redirect(_next_address(request))
    form = SignInForm(typed(request), request=request)
    if not (form.is_valid() and form.user):
        return again(request, "privacy/sign_in.html", form, languages=screen_languages())
    if devices.asks_code(request, form.user):
        access.half_in(request, form.user)
        asked = urlencode({"next": _next_address(request)})
        return redirect(f"{reverse('privacy:code')}?{asked}")
    return _signed_in(request, form.user)


@require_POST
def speak(request: HttpRequest) -> HttpResponse:
    """The language in which the site speaks to a stranger, until the browser is closed."""
    form = SpeakingForm(typed(request))
    wanted = f"?{request.GET.urlencode()}" if request.GET else ""
    address = f"{reverse('privacy:sign_in')}{wanted}"
    if form.is_valid():
        answer = redirect(address)
        keep_language(answer, form.cleaned_data["language"])
        return answer
    sign_in = SignInForm(None, request=request)
    # It stands at another address here, which would take no name.
    sign_in.helper.form_action = address
    context = {"form": sign_in, "speaking": form, "languages": screen_languages()}
    return render(request, "privacy/sign_in.html", context, status=422)


def keep_language(answer: HttpResponse, language: str) -> None:
    """Send the browser its language in a cookie that it sends back until it is closed."""
    answer.set_cookie(
        settings.LANGUAGE_COOKIE_NAME,
        language,
        secure=settings.SECURE_COOKIES,
        httponly=True,
        samesite="Strict",
    )


@sensitive_post_parameters("code")
@require_http_methods(FORM_METHODS)
@calmly
def code(request: HttpRequest) -> HttpResponse:
    """The code, after the password; the password is asked again after ten minutes."""
    if isinstance(request.user, User):
        return redirect(_next_address(request))
    user = access.who_is_half_in(request)
    if user is None:
        return redirect("privacy:sign_in")

    def accepts(said: str) -> bool:
        found = tries.attempt(request, user.username, lambda: devices.accepts(user, said) or None)
        return found is not None

    form = CodeForm(typed(request), accepts=accepts)
    if not form.is_valid():
        return again(request, "privacy/code.html", form)
    response = _signed_in(request, user)
    request.session[ending.CODED_AT] = request.session[ending.SURE_AT]
    devices.remember(response, user)
    return response


def _signed_in(request: HttpRequest, user: User) -> HttpResponse:
    tries.forget(request, user.username)
    login(request, user, backend="django.contrib.auth.backends.ModelBackend")
    request.session.pop(access.HALF, None)
    ending.begin(request)
    note(user, "signed_in", "privacy.user", user.pk)
    return redirect("privacy:clock" if clock.behind() else _next_address(request))


@roles(*EVERYONE)
@open_first
@sensitive_post_parameters("password")
@require_http_methods(FORM_METHODS)
@calmly
def sure(request: HttpRequest) -> HttpResponse:
    """The password once more, before what leaves the house or cannot be undone."""
    form = sureness.password_form(request, data=typed(request))
    if not form.is_valid():
        return again(request, "privacy/sure.html", form)
    sureness.made_sure(request, ending.SURE_AT)
    return redirect(_next_address(request))


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """The way out and the quick hide in one: nothing that opens the site stays in the browser.

    Where a device is known, its own cookie stays: without the password it opens nothing.
    """
    user = request.user if isinstance(request.user, User) else None
    if user:
        note(user, "signed_out", "privacy.user", user.pk)
    keeps = user is not None and user.known_devices.exists()
    logout(request)
    response: HttpResponseRedirect = HttpResponseRedirect(resolve_url("privacy:away"))
    response.headers["Clear-Site-Data"] = '"cache"' if keeps else '"cache", "cookies"'
    if keeps:
        response.delete_cookie(settings.CSRF_COOKIE_NAME, samesite="Strict")
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
