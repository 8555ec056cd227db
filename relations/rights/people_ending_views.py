"""The page that says how the project ends for each person: one press each, or one for many."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.people import access
from relations.privacy.access import roles
from relations.privacy.answering import answer, who
from relations.privacy.home import today
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import people_ending, queries
from .handing_forms import PathForm
from .people_ending_forms import EndAlikeForm, EndForForm


def _page() -> dict[str, Any]:
    """Who has no ending yet, by where they stand, and what was decided."""
    return {
        "row": queries.current_closing(),
        "alike": people_ending.alike(),
        "due": people_ending.to_look_for(today()),
        "decided": people_ending.endings(),
    }


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def people_endings(request: HttpRequest) -> HttpResponse:
    """How it ends for each person, and for whom nobody has said it."""
    return render(request, "rights/people_endings.html", {"form": EndForForm(), **_page()})


@roles(Role.ARTIST)
@sure_within(SURE)
@require_POST
def end_for(request: HttpRequest, code: str) -> HttpResponse:
    """How it ends for one person."""
    user, person = who(request), access.person(request.user, code)
    form = EndForForm(request.POST, path=request.path)

    def act() -> str:
        how = form.cleaned_data["how"]
        people_ending.end_for(person=person, how=how, on=today(), by=user)
        return reverse("rights:people_endings")

    return answer(request, "rights/people_endings.html", form, act, **_page())


@roles(Role.ARTIST)
@sure_within(SURE)
@require_POST
def end_alike(request: HttpRequest) -> HttpResponse:
    """The same for all who stand alike."""
    user, form = who(request), EndAlikeForm(request.POST, path=request.path)

    def act() -> str:
        said = form.typed_in("standing", "has_sat", "how")
        people_ending.end_alike(on=today(), by=user, **said)
        return reverse("rights:people_endings")

    return answer(request, "rights/people_endings.html", form, act, **_page())


@roles(Role.ARTIST)
@sure_within(SURE)
@require_POST
def take_back_ending(request: HttpRequest, code: str) -> HttpResponse:
    """It was pressed by mistake: they stand where they stood before."""
    user, person = who(request), access.person(request.user, code)
    form = PathForm(request.POST, path=request.path)

    def act() -> str:
        people_ending.take_back(person=person, by=user)
        return reverse("rights:people_endings")

    return answer(request, "rights/people_endings.html", form, act, **_page())


@roles(Role.ARTIST)
@sure_within(SURE)
@require_POST
def looked_for(request: HttpRequest, code: str) -> HttpResponse:
    """They were looked for again after two years: how it ends now."""
    user, person = who(request), access.person(request.user, code)
    form = EndForForm(request.POST, path=request.path)

    def act() -> str:
        how = form.cleaned_data["how"]
        people_ending.looked_for(person=person, how=how, on=today(), by=user)
        return reverse("rights:people_endings")

    return answer(request, "rights/people_endings.html", form, act, **_page())
