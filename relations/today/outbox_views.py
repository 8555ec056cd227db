"""Pages of what is written without a signal: the empty form, its worker, its way in, what waits."""

from uuid import UUID

from django.conf import settings
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import translation
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from relations.privacy.access import EVERYONE, open_first, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import home
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import outbox, outbox_pages
from .outbox_forms import FORMS


def _signed_in(request: HttpRequest) -> User | None:
    user = request.user
    return user if isinstance(user, User) and user.is_active else None


def _signed_out() -> HttpResponse:
    """A telephone asks every half minute: that is no fault, and no line in the server's log."""
    answer = JsonResponse({}, status=401)
    answer._has_been_logged = True  # type: ignore[attr-defined]
    return answer


@require_http_methods(["GET", "HEAD", "POST"])
def write(request: HttpRequest) -> HttpResponse:
    """The empty form, for anybody; a press without a script acts as one of its page."""
    language = request.GET.get("in")
    if language in dict(settings.LANGUAGES):
        with translation.override(language):
            return HttpResponse(outbox_pages.shell(outbox_pages.sealing()))
    user, sent = _signed_in(request), typed(request)
    kind = FORMS.get(sent.get("kind", "")) if sent is not None else None
    if kind and sent and user and home().travelling:
        outbox.keep(sent, user)
        return redirect(reverse("today:waiting"))
    if kind is None:
        context = {**outbox_pages.empty(user), **outbox_pages.sealing()}
        return render(request, "today/write.html", context, status=200 if sent is None else 422)
    form = kind(sent, user=user)
    context = {**outbox_pages.empty(user), **outbox_pages.sealing(), kind.KIND: form}
    if user is None and form.is_valid():
        form.refuse(Refused("signed_out"))
    return answer(
        request, "today/write.html", form, lambda: outbox.act(form, who(request)), **context
    )


@require_safe
def worker(request: HttpRequest) -> HttpResponse:
    """The script that keeps the empty form in a browser."""
    context = outbox_pages.worker(translation.get_language() or settings.LANGUAGE_CODE)
    return render(request, "today/worker.js", context, content_type="text/javascript")


@require_safe
def hello(request: HttpRequest) -> HttpResponse:
    """A fresh token for somebody signed in; 401 for anybody else, and never a way elsewhere."""
    if _signed_in(request) is None:
        return _signed_out()
    return JsonResponse({"token": get_token(request)})


@require_POST
def send(request: HttpRequest) -> HttpResponse:
    """Take in one entry: 201 the first time, 200 every other, and what became of it."""
    user = _signed_in(request)
    if user is None:
        return _signed_out()
    try:
        entry, is_new = outbox.take_in(parcel=outbox.parcel(request.body), by=user)
    except ValueError:
        return JsonResponse({}, status=400)
    except outbox.NotNow:
        return JsonResponse({}, status=503)
    return JsonResponse({"state": entry.state}, status=201 if is_new else 200)


@roles(*EVERYONE)
@open_first
@require_safe
def waiting(request: HttpRequest) -> HttpResponse:
    """What could not be acted on, for its writer."""
    return render(request, "today/waiting.html", {"entries": outbox.waiting(who(request))})


@roles(*EVERYONE)
@open_first
def entry(request: HttpRequest, key: UUID) -> HttpResponse:
    """One of them as it was typed, with why it waits; a press acts on it as it says now."""
    user, row = who(request), outbox.entry_or_404(who(request), key)
    sent = typed(request)
    form = outbox.shown(row, user, sent)
    if sent is None or form is None:
        return render(request, "today/entry.html", {"form": form, "entry": row})

    def act() -> str:
        return outbox.settle(entry=row, form=form, by=user)

    return answer(request, "today/entry.html", form, act, entry=row)


@roles(*EVERYONE)
@open_first
@require_POST
def let_entry_go(request: HttpRequest, key: UUID) -> HttpResponse:
    """Its writer has dealt with it in another way."""
    user = who(request)
    outbox.let_go(entry=outbox.entry_or_404(user, key), by=user)
    return redirect(reverse("today:waiting"))
