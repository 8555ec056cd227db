"""Pages of the artist's stays and of the light on their days."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import today

from . import actions, light, queries
from .forms import PlaceForm, TripForm


@roles(*HANDS)
@require_safe
def trips(request: HttpRequest) -> HttpResponse:
    """The artist's stays, the last first."""
    return render(request, "meetings/trips.html", {"trips": queries.trips(), "on": today()})


@roles(*HANDS)
def new_trip(request: HttpRequest) -> HttpResponse:
    """Open a trip."""
    user, form = who(request), TripForm(typed(request))

    def act() -> str:
        actions.open_trip(by=user, **form.opened)
        return reverse("meetings:trips")

    return answer(request, "meetings/new_trip.html", form, act)


@roles(*HANDS)
def light_of(request: HttpRequest, code: str) -> HttpResponse:
    """Sunrise, sunset and low sun on each day of a trip, at the coarse place typed for it."""
    user, trip = who(request), get_object_or_404(queries.trips(), code=code)
    initial = {"latitude": trip.latitude, "longitude": trip.longitude}
    form = PlaceForm(typed(request), initial=initial)

    def act() -> str:
        actions.place_trip(trip=trip, by=user, **form.typed_in("latitude", "longitude"))
        return reverse("meetings:light_of", args=[trip.code])

    context = {"trip": trip, "days": light.of_trip(trip), "on": today()}
    return answer(request, "meetings/light_of.html", form, act, **context)
