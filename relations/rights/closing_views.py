"""The page of closing: what still lacks its ending, how each print ends, and the last press."""

from collections.abc import Callable
from datetime import date
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.privacy.access import roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role, User
from relations.privacy.sureness import SURE, sure_within

from . import ending, people_ending, queries
from .closing_forms import ClosingForm, EndPrintForm


def _page(user: User, on: date) -> dict[str, Any]:
    """Where the closing is, what lacks its ending, and how all else ended."""
    return {
        "row": queries.current_closing(),
        "lacking": queries.lacking(user, on),
        "sums": queries.endings(user),
        "closed_out": queries.closed_out(user),
        "nobody_said": len(people_ending.without_ending()),
    }


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def closing(request: HttpRequest) -> HttpResponse:
    """What still lacks its ending, and how far the closing is."""
    context = {"form": ClosingForm(), **_page(who(request), today())}
    return render(request, "rights/closing.html", context)


@roles(Role.ARTIST)
@sure_within(SURE)
@require_POST
def begin_closing(request: HttpRequest) -> HttpResponse:
    """The project is to close: from now on somebody may decide how a print ends."""
    return _pressed(request, "begin", ending.begin)


@roles(Role.ARTIST)
@sure_within(SURE)
@require_POST
def call_off_closing(request: HttpRequest) -> HttpResponse:
    """It goes on after all; what ended stays ended."""
    return _pressed(request, "call_off", ending.call_off)


@roles(Role.ARTIST)
@sure_within(SURE)
@require_POST
def close_project(request: HttpRequest) -> HttpResponse:
    """The last press: only where nothing lacks its ending."""
    return _pressed(request, "close", ending.close)


def _pressed(request: HttpRequest, what: str, ends: Callable[..., object]) -> HttpResponse:
    """One press on the page of closing, dated today."""
    user, form = who(request), ClosingForm(request.POST, what=what)

    def act() -> str:
        ends(on=today(), by=user)
        return reverse("rights:closing")

    return answer(request, "rights/closing.html", form, act, **_page(user, today()))


@roles(Role.ARTIST)
@sure_within(SURE)
def end_print(request: HttpRequest, key: UUID) -> HttpResponse:
    """How one print ends that nobody could be given: where it goes, who decided that, and why."""
    user, row = who(request), queries.print_or_404(who(request), key)
    form = EndPrintForm(typed(request), print=row)

    def act() -> str:
        ending.end_print(print=row, by=user, at=now(), **form.said())
        return reverse("rights:closing")

    context = {"row": row, "is_closing": queries.is_closing()}
    return answer(request, "rights/end_print.html", form, act, **context)
