"""The page from which the whole register leaves: asked, confirmed by the other, taken once."""

from collections.abc import Callable
from hashlib import sha256
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST, require_safe

from relations.privacy.access import roles
from relations.privacy.answering import again, answer, calmly, who
from relations.privacy.home import now, today
from relations.privacy.models import Role
from relations.privacy.refused import Refused
from relations.privacy.sureness import SURE, sure_within

from . import rules, taking_out, taking_out_file, taking_out_rows
from .backing_up import snapshot
from .models import TakingOut
from .taking_out_forms import AskForm, ConfirmForm, RegisterForm, TakeForm
from .taking_out_words import OPEN

BOTH = (Role.ARTIST, Role.KEEPER)
PAGE = "rights/register.html"


def _page() -> dict[str, Any]:
    """The asking that goes on, until when, and those that are over."""
    at = now()
    row = taking_out.current(at)
    until = rules.taking_until(row.asked_at, row.confirmed_at) if row else None
    earlier = taking_out.ended(at)
    return {"row": row, "until": until, "earlier": earlier, "command": OPEN}


def _next_form(request: HttpRequest, row: TakingOut | None) -> RegisterForm | None:
    """What whoever looks may press next; None where they wait for the other."""
    if who(request).is_artist:
        if row is None:
            return AskForm(path=reverse("rights:ask_register"))
        path = reverse("rights:take_register", args=[row.pk])
        return TakeForm(request=request, path=path) if row.confirmed_at else None
    if row is None or row.confirmed_at:
        return None
    return ConfirmForm(request=request, path=reverse("rights:confirm_register", args=[row.pk]))


@roles(*BOTH)
@sure_within(SURE)
@require_safe
def register(request: HttpRequest) -> HttpResponse:
    """Whether the whole register is asked for, what comes next, and what was taken before."""
    shown = _page()
    form = _next_form(request, shown["row"])
    return render(request, PAGE, {"form": form, "press": RegisterForm(), **shown})


def _pressed(
    request: HttpRequest, form: RegisterForm, act: Callable[..., object], *fields: str, **said: Any
) -> HttpResponse:
    """One press on the page; `act` is given who and when, and what was typed into `fields`."""

    def acted() -> str:
        act(by=who(request), at=now(), **said, **form.typed_in(*fields))
        return reverse("rights:register")

    return answer(request, PAGE, form, acted, press=RegisterForm(), **_page())


@roles(Role.ARTIST)
@sure_within(SURE)
@require_POST
def ask_register(request: HttpRequest) -> HttpResponse:
    """The artist asks; nothing leaves by it."""
    form = AskForm(request.POST, path=request.path)
    return _pressed(request, form, taking_out.ask, "reason")


@roles(Role.KEEPER)
@sensitive_post_parameters("password", "code")
@sure_within(SURE)
@require_POST
@calmly
def confirm_register(request: HttpRequest, key: UUID) -> HttpResponse:
    """The keeper confirms, with password and code: the artist may take it, for a short while."""
    asking = taking_out.asking_or_404(key)
    form = ConfirmForm(request.POST, request=request, path=request.path)
    return _pressed(request, form, taking_out.confirm, asking=asking)


@roles(Role.KEEPER)
@require_POST
def refuse_register(request: HttpRequest, key: UUID) -> HttpResponse:
    """The keeper says no: no password, since it only ends."""
    asking = taking_out.asking_or_404(key)
    form = RegisterForm(request.POST, path=request.path)
    return _pressed(request, form, taking_out.refuse, asking=asking)


@roles(*BOTH)
@require_POST
def call_off_register(request: HttpRequest, key: UUID) -> HttpResponse:
    """It does not come about; either of the two may say so, without a password."""
    asking = taking_out.asking_or_404(key)
    form = RegisterForm(request.POST, path=request.path)
    return _pressed(request, form, taking_out.call_off, asking=asking)


@roles(Role.ARTIST)
@sensitive_post_parameters("passphrase", "again")
@sure_within(SURE)
@require_POST
def take_register(request: HttpRequest, key: UUID) -> HttpResponse:
    """The file, once: noted as taken before a byte of it leaves."""
    user, asking = who(request), taking_out.asking_or_404(key)
    form = TakeForm(request.POST, request=request, path=request.path)
    if form.is_valid():
        try:
            taking_out.may_take(asking=asking, by=user, at=now())
            made = _made(form.cleaned_data["passphrase"])
            digest = sha256(made).hexdigest()
            taking_out.take(asking=asking, digest=digest, by=user, at=now())
            return _file(made)
        except Refused as refused:
            form.refuse(refused)
    return again(request, PAGE, form, press=RegisterForm(), **_page())


def _made(passphrase: str) -> bytes:
    """The sealed file as of this moment, in memory; in clear it is on no disk."""
    with snapshot():
        return taking_out_file.seal(taking_out_rows.document(now()), passphrase)


def _file(made: bytes) -> HttpResponse:
    """The file under the day alone: whose it is stands in no name."""
    name = f"{today():%Y-%m-%d}.{taking_out_file.SUFFIX}"
    response = HttpResponse(made, content_type="application/octet-stream")
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
