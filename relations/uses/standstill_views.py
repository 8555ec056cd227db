"""The keeper's page for the time when the artist is gone: every new use is held back."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.privacy.access import roles
from relations.privacy.answering import answer, who
from relations.privacy.home import now, today
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import clearing, standstill
from .standstill_forms import LiftStandstillForm, StandstillForm


def _page() -> dict[str, Any]:
    """Whether the hold lies, what it bears on in numbers, and those that were lifted."""
    return {
        "row": standstill.current(),
        "plans": standstill.plans_ahead(today()),
        "sheets": clearing.in_force(today()).count(),
        "lifted": standstill.lifted(),
        "at": now(),
    }


@roles(Role.KEEPER)
@require_safe
def held_back(request: HttpRequest) -> HttpResponse:
    """Whether new uses are held back, and how many plans and sheets there are."""
    shown = _page()
    form = LiftStandstillForm() if shown["row"] else StandstillForm()
    return render(request, "uses/held_back.html", {"form": form, **shown})


@roles(Role.KEEPER)
@require_POST
def hold_back(request: HttpRequest) -> HttpResponse:
    """Nobody makes a new use from now on. No password: it may have to be quick."""
    user, form = who(request), StandstillForm(request.POST)

    def act() -> str:
        standstill.lay(by=user, at=now())
        return reverse("uses:held_back")

    return answer(request, "uses/held_back.html", form, act, **_page())


@roles(Role.KEEPER)
@sure_within(SURE)
@require_POST
def let_go_on(request: HttpRequest) -> HttpResponse:
    """New uses may be made again, and what was settled."""
    user, form = who(request), LiftStandstillForm(request.POST)

    def act() -> str:
        standstill.lift(by=user, at=now(), **form.typed_in("sentence"))
        return reverse("uses:held_back")

    return answer(request, "uses/held_back.html", form, act, **_page())
