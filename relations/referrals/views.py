"""The page of introductions, for the artist's eye only."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from relations.privacy.access import roles
from relations.privacy.answering import who
from relations.privacy.log import note
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import queries


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def introductions(request: HttpRequest) -> HttpResponse:
    """Who was reached through whom, by codes; that it was opened is noted."""
    note(who(request), "read", "map", None)
    lines = queries.introductions()
    return render(request, "referrals/introductions.html", {"lines": lines})
