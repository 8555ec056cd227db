"""The accounts, for artist and keeper: who signs in, and what is done when a telephone is lost."""

from collections.abc import Callable
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from . import access, actions, codes, queries
from .access import HELPED, roles
from .account_forms import NewAccountForm, PasswordForm, PressForm, RoleForm, SeenForm
from .answering import answer, typed, who
from .models import Role, User
from .sureness import SURE, sure_within
from .views import FORM_METHODS

CARERS = (Role.ARTIST, Role.KEEPER)


def page_of(user: User) -> str:
    """The address of one account."""
    return reverse("privacy:account", args=[user.pk])


def _shown(user: User) -> dict[str, Any]:
    return {"account": queries.account(user), "is_helped": user.role in HELPED}


def _pressed(request: HttpRequest, user: User, act: Callable[..., object]) -> HttpResponse:
    """Act on one account by a press, once however often it comes; a refusal is on its page."""
    form = PressForm(typed(request), path=request.path)

    def press() -> str:
        act(user=user, by=who(request))
        return page_of(user)

    return answer(request, "privacy/account.html", form, press, **_shown(user))


@roles(*CARERS)
@require_safe
def accounts(request: HttpRequest) -> HttpResponse:
    """All who sign in."""
    context = {"accounts": queries.accounts(), "form": PressForm()}
    return render(request, "privacy/accounts.html", context)


@roles(*CARERS)
@require_POST
def seen(request: HttpRequest) -> HttpResponse:
    """What became of the accounts was seen."""
    form = SeenForm(request.POST)
    if form.is_valid():
        actions.see(user=who(request), up_to=form.cleaned_data["up_to"])
    return redirect("today:today")


@roles(*CARERS)
@sensitive_post_parameters("password")
@sure_within(SURE)
@require_http_methods(FORM_METHODS)
def new_account(request: HttpRequest) -> HttpResponse:
    """Somebody new, with a first password."""
    form = NewAccountForm(typed(request))

    def act() -> str:
        said = form.typed_in("username", "called", "role", "password")
        return page_of(actions.add(**said, by=who(request)))

    return answer(request, "privacy/new_account.html", form, act)


@roles(*CARERS)
@require_safe
def account(request: HttpRequest, key: UUID) -> HttpResponse:
    """One account, and what can be done for it."""
    context = {**_shown(access.account(key)), "form": PressForm()}
    return render(request, "privacy/account.html", context)


@roles(*CARERS)
@require_POST
def end_sessions(request: HttpRequest, key: UUID) -> HttpResponse:
    """End what somebody has open. No password: it may have to be quick."""

    def act(*, user: User, by: User) -> None:
        actions.end_all(users=[user], by=by)

    return _pressed(request, access.account(key), act)


@roles(*CARERS)
@require_POST
def end_all_sessions(request: HttpRequest) -> HttpResponse:
    """End what everybody has open, one's own too. Without a token: nothing is left to send it."""
    everybody = [account.user for account in queries.accounts()]
    actions.end_all(users=everybody, by=who(request))
    request.session.flush()
    return redirect("privacy:sign_in")


@roles(*CARERS)
@require_POST
def lost_phone(request: HttpRequest, key: UUID) -> HttpResponse:
    """A telephone is gone. No password: it may have to be quick."""
    return _pressed(request, access.account(key), actions.lose_phone)


@roles(*CARERS)
@sure_within(SURE)
@require_POST
def lost_codes(request: HttpRequest, key: UUID) -> HttpResponse:
    """Telephone and paper are gone: one code, shown once to whoever tells it on."""
    user = access.account(key)
    made: list[str] = []

    def act(*, user: User, by: User) -> None:
        made.append(actions.lose_codes(user=user, by=by))

    pressed = _pressed(request, user, act)
    if not made:
        return pressed
    context = {"account": user, "code": codes.in_groups(made[0])}
    return render(request, "privacy/lost_codes.html", context)


@roles(*CARERS)
@require_POST
def free(request: HttpRequest, key: UUID) -> HttpResponse:
    """Let somebody who was held off try again."""
    return _pressed(request, access.account(key), actions.free)


@roles(*CARERS)
@sure_within(SURE)
@require_POST
def let_go(request: HttpRequest, key: UUID) -> HttpResponse:
    """Somebody signs in no more."""
    return _pressed(request, access.account(key), actions.let_go)


@roles(*CARERS)
@sure_within(SURE)
@require_POST
def let_in(request: HttpRequest, key: UUID) -> HttpResponse:
    """Somebody who was let go may sign in again."""
    return _pressed(request, access.account(key), actions.let_in)


@roles(*CARERS)
@sure_within(SURE)
@require_http_methods(FORM_METHODS)
def change_role(request: HttpRequest, key: UUID) -> HttpResponse:
    """Another role; what they have open ends at once."""
    user = access.helped_account(key)
    form = RoleForm(typed(request), initial={"role": user.role})

    def act() -> str:
        actions.change_role(user=user, by=who(request), **form.typed_in("role"))
        return page_of(user)

    return answer(request, "privacy/change_role.html", form, act, account=user)


@roles(*CARERS)
@sensitive_post_parameters("password")
@sure_within(SURE)
@require_http_methods(FORM_METHODS)
def give_password(request: HttpRequest, key: UUID) -> HttpResponse:
    """A new first password, for who lost their own or their codes on paper."""
    user = access.helped_account(key)
    form = PasswordForm(typed(request), user=None)

    def act() -> str:
        actions.give_password(user=user, by=who(request), **form.typed_in("password"))
        return page_of(user)

    return answer(request, "privacy/give_password.html", form, act, account=user)
