"""The presses beside what is open: thanked, and asked whether they know somebody."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from relations.people import access, actions
from relations.privacy.access import roles
from relations.privacy.answering import who
from relations.privacy.home import today
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import queries


def _back_to(section: str) -> HttpResponse:
    return redirect(f"{reverse('referrals:introductions')}#{section}")


@roles(Role.ARTIST)
@sure_within(SURE)
@require_POST
def thanked(request: HttpRequest, code: str) -> HttpResponse:
    """Whoever told us of people who sat was thanked today, or was not after all."""
    user, introducer = who(request), queries.introducer_or_404(who(request), code)
    on = None if "not" in request.POST else today()
    actions.thank(introducer=introducer, on=on, by=user)
    return _back_to("h-thanks")


@roles(Role.ARTIST)
@sure_within(SURE)
@require_POST
def asked_to_tell(request: HttpRequest, code: str) -> HttpResponse:
    """A sitter was asked today whether they know somebody, or was not after all."""
    user, person = who(request), access.person(request.user, code)
    on = None if "not" in request.POST else today()
    actions.ask_to_tell(person=person, on=on, by=user)
    return _back_to("h-open")
