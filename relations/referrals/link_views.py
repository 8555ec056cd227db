"""Pages that look after links, for the artist alone: whose they are, sealing, what is open."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from relations.people import links as people
from relations.people.models import Participant
from relations.people.values import Clocks
from relations.privacy.access import roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import today
from relations.privacy.log import note
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import links as held
from .link_forms import OverForm, SealForm, WhomForm

FORM_METHODS = ["GET", "HEAD", "POST"]


@roles(Role.ARTIST)
@sure_within(SURE)
@require_http_methods(FORM_METHODS)
def links(request: HttpRequest) -> HttpResponse:
    """The links that need not be known any more; those that are ticked are sealed."""
    whom = WhomForm(request.GET or None)
    if whom.is_valid():
        return redirect("referrals:links_of", whom.cleaned_data["code"])
    user = who(request)
    note(user, "read", "map", None)
    form = OverForm(typed(request), over=held.over(today()))

    def act() -> str:
        rows = [one.row for one in form.chosen]
        people.seal(rows=rows, waves=held.waves(rows), by=user)
        return reverse("referrals:links")

    return answer(request, "referrals/links.html", form, act, whom=whom, months=Clocks().links)


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def links_of(request: HttpRequest, code: str) -> HttpResponse:
    """Every link of somebody, each to be sealed or mended, or all of them sealed at once."""
    whose = held.whose_or_404(code)
    note(who(request), "read", "map", getattr(whose, "log_key", None))
    context = {
        "whose": whose,
        "links": held.of(whose),
        "is_outside": not isinstance(whose, Participant),
    }
    return render(request, "referrals/links_of.html", context)


@roles(Role.ARTIST)
@sure_within(SURE)
@require_http_methods(FORM_METHODS)
def seal(request: HttpRequest, key: UUID) -> HttpResponse:
    """One link: what would still say it, and the press that takes who told us out for good."""
    user, row, form = who(request), held.row_or_404(key), SealForm(typed(request))
    note(user, "read", "map", row.person.log_key)
    source, code = held.source(row), row.person.code

    def act() -> str:
        people.seal(rows=[row], waves=held.waves([row]), by=user)
        return reverse("referrals:links_of", args=[code])

    return answer(request, "referrals/seal.html", form, act, row=row, source=source,
                  still=held.still_told(row))  # fmt: skip


@roles(Role.ARTIST)
@sure_within(SURE)
@require_http_methods(FORM_METHODS)
def seal_all(request: HttpRequest, code: str) -> HttpResponse:
    """All links of somebody at once: the simplest way to take them out of the web."""
    user, whose, form = who(request), held.whose_or_404(code), SealForm(typed(request))
    note(user, "read", "map", getattr(whose, "log_key", None))
    found = [link for link in held.of(whose) if link.is_named]

    def act() -> str:
        rows = [link.row for link in found]
        people.seal(rows=rows, waves=held.waves(rows), by=user)
        people.forget_mended(whose)
        return reverse("referrals:links_of", args=[whose.code])

    return answer(request, "referrals/seal_all.html", form, act, whose=whose, links=found,
                  still=held.still_told_of_all(found))  # fmt: skip


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def questions(request: HttpRequest) -> HttpResponse:
    """What the web leaves open, each with what would settle it."""
    note(who(request), "read", "map", None)
    return render(request, "referrals/questions.html", {"questions": held.open_questions()})
