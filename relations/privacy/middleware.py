"""Before everything else: a locked home answers one page; every answer carries its headers."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse, HttpResponseNotAllowed, HttpResponseRedirect
from django.middleware.csrf import CsrfViewMiddleware, get_token
from django.template.loader import get_template
from django.utils import translation
from django.utils.http import escape_leading_slashes

from relations.languages.local_calendars import Calendar
from relations.languages.manner import Figures, Manner, speaking

from . import travelling, workers
from .crypt import SealBroken
from .idle import idle
from .keys import Halfway, Locked, StaysLocked, TooSoon, WrongSecret, keyring
from .models import User
from .opening import doors, let_in

Next = Callable[[HttpRequest], HttpResponse]

CONTENT_SECURITY_POLICY = "; ".join(
    [
        "default-src 'none'",
        *(
            f"{kind} 'self'"
            for kind in (
                "style-src",
                "script-src",
                "img-src",
                "connect-src",
                "worker-src",
                "manifest-src",
                "form-action",
            )
        ),
        *(f"{kind} 'none'" for kind in ("font-src", "frame-ancestors", "base-uri", "object-src")),
    ]
)
# Without bluetooth and web-share: browsers do not know them here and say so in the console.
SWITCHED_OFF = (
    "accelerometer",
    "autoplay",
    "camera",
    "display-capture",
    "encrypted-media",
    "fullscreen",
    "geolocation",
    "gyroscope",
    "magnetometer",
    "microphone",
    "midi",
    "payment",
    "picture-in-picture",
    "publickey-credentials-get",
    "screen-wake-lock",
    "usb",
    "xr-spatial-tracking",
)
METHODS = ("GET", "HEAD", "POST")
HEADERS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "Permissions-Policy": ", ".join(f"{name}=()" for name in SWITCHED_OFF),
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "X-Frame-Options": "DENY",
    "X-Content-Type-Options": "nosniff",
    "X-Robots-Tag": "noindex, nofollow, noarchive",
    # `no-referrer` would make browsers send `Origin: null`, and every form would be refused.
    "Referrer-Policy": "same-origin",
    "Cache-Control": "no-store",
}


class HeadersMiddleware:
    """Adds the headers to every answer; one that a page set itself stands."""

    def __init__(self, get_response: Next) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        for name, value in HEADERS.items():
            response.headers.setdefault(name, value)
        return response


class _LockedCsrf(CsrfViewMiddleware):
    """The check of the unlocking form, by cookie alone and without the site's own error page."""

    def _reject(self, request: HttpRequest, reason: str) -> HttpResponse:
        return _unlocking_page(request, 403, problem="stale")


def _unlocking_page(
    request: HttpRequest, status: int, *, problem: str = "", **said: object
) -> HttpResponse:
    """A page that names nothing and asks for nothing but the passphrase."""
    with translation.override(translation.get_language_from_request(request)):
        page = get_template("privacy/locked.html").render(
            {"problem": problem, **said, "csrf_token": get_token(request)}
        )
    response = HttpResponse(page, status=status)
    if status == 503:
        response.headers["Retry-After"] = "60"
        # A locked home is no fault: Django would write an error line for each asking.
        response._has_been_logged = True  # type: ignore[attr-defined]
    return response


class LockedMiddleware:
    """While no key is held, every path answers the unlocking page, and nothing else runs."""

    def __init__(self, get_response: Next) -> None:
        self.get_response = get_response
        self._csrf = _LockedCsrf(lambda request: HttpResponse())

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if travelling.is_over():
            keyring.lock()
            return _unlocking_page(request, 503, problem=travelling.SetEnded.code)
        if not keyring.is_open:
            return self._answer_locked(request)
        response = self.get_response(request)
        # Only where a page asked who it is: a style sheet, or a stranger, keeps no home open.
        if isinstance(getattr(request, "_cached_user", None), User):
            idle.touch()
        return response

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        """A home locked while a page was being made answers as a locked one."""
        return _unlocking_page(request, 503) if isinstance(exception, Locked) else None

    def _answer_locked(self, request: HttpRequest) -> HttpResponse:
        # A body of another kind, such as a scan, is not even read.
        is_try = (
            request.method == "POST" and request.content_type == "application/x-www-form-urlencoded"
        )
        if not is_try:
            response = _unlocking_page(request, 503)
        else:
            self._csrf.process_request(request)
            refused = self._csrf.process_view(request, self._try, (), {})
            response = refused or self._try(request)
        self._csrf.process_response(request, response)
        return response

    def _try(self, request: HttpRequest) -> HttpResponse:
        try:
            with doors:
                if not keyring.is_open:
                    said = request.POST.get("passphrase", "")
                    keyring.unlock(said)
                    let_in()
                    workers.opened(said)
        except TooSoon as error:
            return _unlocking_page(request, 403, problem="soon", seconds=int(error.seconds) + 1)
        except (WrongSecret, FileNotFoundError):
            return _unlocking_page(request, 403, problem="wrong")
        except (Halfway, SealBroken):
            return _unlocking_page(request, 403, problem="damaged")
        except StaysLocked as error:
            where = {name: getattr(error, name, "") for name in ("line", "kind")}
            return _unlocking_page(request, 503, problem=error.code, **where)
        idle.touch()
        return HttpResponseRedirect(escape_leading_slashes(request.path))


class MethodsMiddleware:
    """Answers what no page takes with the same 405 at every address, before anything is looked at.

    So no other method tells whether a page or a person is there, nor slips past a form.
    """

    def __init__(self, get_response: Next) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if request.method not in METHODS:
            return HttpResponseNotAllowed(METHODS)
        return self.get_response(request)


def _manner(user: object, language: str) -> Manner:
    """What the user chose; to a stranger the site speaks as is usual in the language."""
    if not isinstance(user, User):
        return Manner(language)
    return Manner(language, Figures(user.figures), Calendar(user.calendar))


class LanguageMiddleware:
    """Speaks as the signed-in user chose; to a stranger, as they or their browser ask."""

    def __init__(self, get_response: Next) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        user = request.user
        chosen = user.language if isinstance(user, User) else None
        code = chosen or translation.get_language_from_request(request)
        with translation.override(code), speaking(_manner(user, code)):
            request.LANGUAGE_CODE = code
            response = self.get_response(request)
            response.headers.setdefault("Content-Language", code)
            return response
