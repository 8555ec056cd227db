"""Pages of a trip: what went out, and whether it has come home."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from relations.meetings.models import Trip
from relations.privacy.access import HANDS, roles

from . import queries


@roles(*HANDS)
@require_safe
def balance(request: HttpRequest, code: str) -> HttpResponse:
    """The blanks of a trip, heap by heap, and the serials that nobody can account for."""
    trip = get_object_or_404(Trip, code=code)
    context = {"trip": trip, "blanks": queries.blanks(trip)}
    return render(request, "trips/balance.html", context)
