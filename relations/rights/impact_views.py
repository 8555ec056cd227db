"""The impact assessment as a page and a paper to be completed by hand; nobody's data is in it."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from relations.consent.views import as_pdf
from relations.documents.one_language import lay_out_in
from relations.privacy.access import roles
from relations.privacy.home import today
from relations.privacy.models import Role

from .impact_place import place
from .impact_rows import parts
from .impact_words import ANSWERABLE, BY_HAND, WHOLE_PERSON, risks
from .letting_words import said


def _said() -> dict[str, Any]:
    """What both say: what is kept, where it lies, what may happen, what is left to a hand."""
    found = parts()
    rows = [row for part in found for row in part.rows]
    return {
        "parts": found,
        "tables": len(rows),
        "fields": sum(len(row.columns) for row in rows),
        "place": place(),
        "whole_person": said(WHOLE_PERSON),
        "risks": risks(),
        "answerable": ANSWERABLE,
        "by_hand": BY_HAND,
    }


@roles(Role.ARTIST, Role.KEEPER)
@require_safe
def impact(request: HttpRequest) -> HttpResponse:
    """What is kept, why, how long, who reads it, where it lies, risks and measures."""
    return render(request, "rights/impact.html", _said())


@roles(Role.ARTIST, Role.KEEPER)
@require_safe
def impact_pdf(request: HttpRequest) -> HttpResponse:
    """The same as a tagged PDF with lines to write on, in the language of the screen."""
    day = today()
    made = lay_out_in(
        "rights/paper/impact.html",
        {"day": day, **_said()},
        style="rights/paper/impact.css",
        title=f"impact-{day.isoformat()}",
    )
    return as_pdf(made.content, "impact")
