"""The keeper erases a person: a code, what goes and what stays, the password, one press."""

from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from relations.privacy.access import roles
from relations.privacy.answering import again, typed, who
from relations.privacy.home import now
from relations.privacy.models import Role
from relations.privacy.once import once
from relations.privacy.refused import Refused
from relations.privacy.sureness import SURE, sure_within

from . import access, erasing, leaving
from .erase_forms import EraseForm, WhomForm
from .words import GOING

FORM_METHODS = ["GET", "HEAD", "POST"]


@roles(Role.KEEPER)
@require_http_methods(FORM_METHODS)
def erase(request: HttpRequest) -> HttpResponse:
    """Whom: by a code that the keeper was told."""
    form = WhomForm(typed(request))
    if form.is_valid():
        return redirect("rights:erase_whom", form.cleaned_data["code"])
    return again(request, "rights/erase.html", form)


@roles(Role.KEEPER)
@sure_within(SURE)
@require_http_methods(FORM_METHODS)
def erase_whom(request: HttpRequest, code: str) -> HttpResponse:
    """What goes, what stays and why, in counts; then the press that nothing brings back."""
    form, user = EraseForm(typed(request)), who(request)

    def act() -> str:
        erasing.erase(person=access.to_erase(code), by=user, at=now())
        return reverse("rights:erased")

    if form.is_valid():
        try:
            return redirect(once(form.token, user, act))
        except Refused as refused:
            form.refuse(refused)
    person = access.to_erase(code)
    shown = {
        "code": person.code,
        "counts": [(GOING[name], count) for name, count in leaving.counts(person).items()],
        "not_yet": [form.words(one) for one in erasing.why_not_yet(person, now())],
        "is_on_a_server": connection.vendor == "postgresql",
    }
    return again(request, "rights/erase_whom.html", form, **shown)


@roles(Role.KEEPER)
@require_safe
def erased(request: HttpRequest) -> HttpResponse:
    """It is done: what is left to do by hand."""
    return render(request, "rights/erased.html")
