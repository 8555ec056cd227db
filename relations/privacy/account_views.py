"""The accounts, for artist and keeper: who signs in, and what is done when a telephone is lost."""

from typing import Any, Protocol
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from . import access, actions, queries
from .access import HELPED, roles, sure_within
from .account_forms import NewAccountForm, PasswordForm, RoleForm
from .answering import again, typed, who
from .models import Role, User
from .refused import Refused
from .views import FORM_METHODS

CARERS = (Role.ARTIST, Role.KEEPER)
SURE = 10  # minutes


class Press(Protocol):
    """An action that one press starts."""

    def __call__(self, *, user: User, by: User) -> object: ...


def _shown(user: User) -> dict[str, Any]:
    return {"account": queries.account(user), "is_helped": user.role in HELPED}


def _pressed(request: HttpRequest, key: UUID, act: Press) -> HttpResponse:
    """Act on one account by a press that may come twice; a refusal is shown on its page."""
    user = access.account(key)
    try:
        act(user=user, by=who(request))
    except Refused:
        context = {**_shown(user), "is_refused": True}
        return render(request, "privacy/account.html", context, status=422)
    return redirect("privacy:account", key)


@roles(*CARERS)
@require_safe
def accounts(request: HttpRequest) -> HttpResponse:
    """All who sign in."""
    return render(request, "privacy/accounts.html", {"accounts": queries.accounts()})


@roles(*CARERS)
@sure_within(SURE)
@sensitive_post_parameters("password")
@require_http_methods(FORM_METHODS)
def new_account(request: HttpRequest) -> HttpResponse:
    """Somebody new, with a first password."""
    form = NewAccountForm(typed(request))
    if not form.is_valid():
        return again(request, "privacy/new_account.html", form)
    user = actions.add(**form.cleaned_data, by=who(request))
    return redirect("privacy:account", user.pk)


@roles(*CARERS)
@require_safe
def account(request: HttpRequest, key: UUID) -> HttpResponse:
    """One account, and what can be done for it."""
    return render(request, "privacy/account.html", _shown(access.account(key)))


@roles(*CARERS)
@require_POST
def end_sessions(request: HttpRequest, key: UUID) -> HttpResponse:
    """End what somebody has open. No password: it may have to be quick."""

    def act(*, user: User, by: User) -> None:
        actions.end_all(users=[user], by=by)

    return _pressed(request, key, act)


@roles(*CARERS)
@require_POST
def end_all_sessions(request: HttpRequest) -> HttpResponse:
    """End what everybody has open, one's own too."""
    everybody = [account.user for account in queries.accounts()]
    actions.end_all(users=everybody, by=who(request))
    request.session.flush()
    return redirect("privacy:sign_in")


@roles(*CARERS)
@require_POST
def lost_phone(request: HttpRequest, key: UUID) -> HttpResponse:
    """A telephone is gone. No password: it may have to be quick."""
    return _pressed(request, key, actions.lose_phone)


@roles(*CARERS)
@require_POST
def free(request: HttpRequest, key: UUID) -> HttpResponse:
    """Let somebody who was held off try again."""
    return _pressed(request, key, actions.free)


@roles(*CARERS)
@sure_within(SURE)
@require_POST
def let_go(request: HttpRequest, key: UUID) -> HttpResponse:
    """Somebody signs in no more."""
    return _pressed(request, key, actions.let_go)


@roles(*CARERS)
@sure_within(SURE)
@require_POST
def let_in(request: HttpRequest, key: UUID) -> HttpResponse:
    """Somebody who was let go may sign in again."""
    return _pressed(request, key, actions.let_in)


@roles(*CARERS)
@sure_within(SURE)
@require_http_methods(FORM_METHODS)
def change_role(request: HttpRequest, key: UUID) -> HttpResponse:
    """Another role; what they have open ends at once."""
    user = access.helped_account(key)
    form = RoleForm(typed(request), initial={"role": user.role})
    if not form.is_valid():
        return again(request, "privacy/change_role.html", form, account=user)
    actions.change_role(user=user, role=form.cleaned_data["role"], by=who(request))
    return redirect("privacy:account", key)


@roles(*CARERS)
@sure_within(SURE)
@sensitive_post_parameters("password")
@require_http_methods(FORM_METHODS)
def give_password(request: HttpRequest, key: UUID) -> HttpResponse:
    """A new first password, for who lost their own or their codes on paper."""
    user = access.helped_account(key)
    form = PasswordForm(typed(request), user=None)
    if not form.is_valid():
        return again(request, "privacy/give_password.html", form, account=user)
    actions.give_password(user=user, password=form.cleaned_data["password"], by=who(request))
    return redirect("privacy:account", key)
