"""The page of counts for funders, and the paper: what is printed is kept as it was said."""

from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.consent.views import as_pdf
from relations.documents.one_language import lay_out_in
from relations.privacy.access import roles
from relations.privacy.answering import answer, who
from relations.privacy.home import now, today
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import counting
from .counting import Report
from .counts_forms import CountsForm


def _page() -> dict[str, Any]:
    """The report of the last fixed day, and all that were said, one of them perhaps this one."""
    return {"report": counting.newest(today()), "earlier": counting.reports()}


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def counts(request: HttpRequest) -> HttpResponse:
    """What would be said to funders now, and what was said before."""
    return render(request, "rights/counts.html", {"form": CountsForm(), **_page()})


@roles(Role.ARTIST)
@sure_within(SURE)
@require_POST
def counts_pdf(request: HttpRequest) -> HttpResponse:
    """Print a report and keep what it says; an earlier one is printed as it was said."""
    user, form, made = who(request), CountsForm(request.POST), list[bytes]()

    def act() -> str:
        day = form.cleaned_data["as_of"]
        made.append(_paper(counting.say(day=day, on=today(), by=user, at=now())))
        return reverse("rights:counts")

    response = answer(request, "rights/counts.html", form, act, **_page())
    return as_pdf(made[0], "counts") if made else response


def _paper(report: Report) -> bytes:
    """The report as a tagged PDF in the language of the screen; no person and no hour in it."""
    context = {"report": report, "project": settings.RELATIONS_PROJECT}
    made = lay_out_in(
        "rights/paper/counts.html",
        context,
        style="rights/paper/counts.css",
        title=report.as_of.isoformat(),
    )
    return made.content
