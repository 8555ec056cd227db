"""The page of introductions and the tables behind it, for the artist's eye only."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from relations.privacy.access import roles
from relations.privacy.answering import who
from relations.privacy.home import today
from relations.privacy.log import note
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import drawn, links
from .forms import GoalForm
from .overview import MOST, overview


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def introductions(request: HttpRequest) -> HttpResponse:
    """The eight answers about who was reached through whom, by codes; the look is noted."""
    note(who(request), "read", "map", None)
    context = {
        "web": overview(today()),
        "most": f":{MOST}",
        "picture": drawn.largest(),
        "questions": links.open_questions(),
    }
    return render(request, "referrals/introductions.html", context)


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def tables(request: HttpRequest) -> HttpResponse:
    """The tables that the answers stand on, and which links to seal first; the look is noted."""
    note(who(request), "read", "map", None)
    form = GoalForm(request.GET if "within" in request.GET else None)
    context = {"form": form, "web": overview(today(), form.goal), "most": f":{MOST}"}
    return render(request, "referrals/tables.html", context)
