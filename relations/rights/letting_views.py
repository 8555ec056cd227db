"""The monthly list: what is due to be let go, and the keeper's two presses for each line of it."""

from itertools import groupby
from typing import Any

from django.db import connection
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from relations.privacy.access import roles
from relations.privacy.answering import again, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role
from relations.privacy.once import once
from relations.privacy.refused import Refused
from relations.privacy.sureness import SURE, sure_within

from . import letting_go as letting
from .clocks import NEVER_LATER, OF_PERSONS
from .letting_forms import LetGoForm, PostponeForm
from .words import GOING, REFUSED

PAGE = "rights/let_one_go.html"


@roles(Role.ARTIST, Role.KEEPER)
@require_safe
def letting_go(request: HttpRequest) -> HttpResponse:
    """What is due, by clock, and what was postponed: codes and days, never a name."""
    lines, on = letting.lines(today()), today()
    due = [line for line in lines if line.waits(on)]
    context = {
        "clocks": [
            (clock, list(found)) for clock, found in groupby(due, lambda line: line.proposal.clock)
        ],
        "postponed": [line for line in lines if not line.waits(on)],
        "amount": len(due),
        "may_press": who(request).is_one_of(Role.KEEPER),
    }
    return render(request, "rights/letting_go.html", context)


@roles(Role.KEEPER)
@sure_within(SURE)
@require_http_methods(["GET", "HEAD", "POST"])
def let_one_go(request: HttpRequest, clock: str, key: str) -> HttpResponse:
    """What goes with one line of the list and what stands against it; then the press."""
    form, user = LetGoForm(typed(request), path=request.path), who(request)

    def act() -> str:
        line = _line_or_404(clock, key)
        letting.confirm(line=line, by=user, at=now(), on=today())
        return reverse("rights:letting_go")

    if form.is_valid():
        try:
            return redirect(once(form.token, user, act))
        except Refused as refused:
            form.refuse(refused)
    later = PostponeForm(path=reverse("rights:postpone", args=[clock, key]))
    return again(request, PAGE, form, confirm=form, later=later, **_page(clock, key))


@roles(Role.KEEPER)
@sure_within(SURE)
@require_POST
def postpone(request: HttpRequest, clock: str, key: str) -> HttpResponse:
    """Keep it for 90 days more, with a sentence; the page again where that cannot be."""
    path, user = reverse("rights:postpone", args=[clock, key]), who(request)
    form = PostponeForm(request.POST, path=path)

    def act() -> str:
        sentence = form.cleaned_data["sentence"]
        letting.postpone(line=_line_or_404(clock, key), sentence=sentence, by=user, on=today())
        return reverse("rights:letting_go")

    if form.is_valid():
        try:
            return redirect(once(form.token, user, act))
        except Refused as refused:
            form.refuse(refused)
    page = _page(clock, key)
    confirm = LetGoForm(path=reverse("rights:let_one_go", args=[clock, key]))
    return again(request, PAGE, form, confirm=confirm, later=form, **page)


def _line_or_404(clock: str, key: str) -> letting.Line:
    line = letting.line_of(clock, key, today())
    if line is None:
        raise Http404
    return line


def _page(clock: str, key: str) -> dict[str, Any]:
    """One line, what goes with it in counts where it is a person, and why not yet."""
    line = _line_or_404(clock, key)
    counts = letting.counts(line.proposal)
    return {
        "line": line,
        "one": line.proposal,
        "counts": [(GOING[name], count) for name, count in counts.items() if count],
        "is_whole": line.proposal.clock in OF_PERSONS,
        "not_yet": [REFUSED[code] for code in letting.why_not_yet(line.proposal, now())],
        "is_on_a_server": connection.vendor == "postgresql",
        "may_wait": line.postponed_until is None and line.proposal.clock not in NEVER_LATER,
    }
