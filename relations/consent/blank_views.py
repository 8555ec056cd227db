"""Pages of the blanks that are signed out to a trip: what it needs, what is out, one PDF."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from relations.meetings.models import Trip
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now
from relations.privacy.refused import Refused

from . import actions
from . import blanks as asked
from .blank_forms import BlanksForm
from .views import as_pdf


@roles(*HANDS)
def blanks(request: HttpRequest, code: str) -> HttpResponse:
    """What a trip needs in each language, the press that prints it, and what is out."""
    user, trip = who(request), get_object_or_404(Trip, code=code)
    proposed = asked.proposed(trip)
    form = BlanksForm(typed(request), user=user, proposed=proposed)

    def act() -> str:
        how = form.typed_in("second", "kind", "has_heading", "carrier")
        actions.print_blanks(trip=trip, counts=form.counts, by=user, at=now(), **how)
        return request.path

    out = list(asked.out(trip))
    blank = sum(one.state in asked.BLANK for one in out)
    context = {"trip": trip, "needs": proposed, "out": out, "blank": blank}
    return answer(request, "consent/blanks.html", form, act, **context)


@roles(*HANDS)
@require_safe
def blanks_pdf(request: HttpRequest, code: str) -> HttpResponse:
    """All blanks of a trip that nobody has written on, in order of need, for the printer."""
    trip = get_object_or_404(Trip, code=code)
    forms = asked.still_blank(trip)
    if not forms:
        raise Http404
    try:
        return as_pdf(asked.pack(forms), f"blanks-{trip.code}")
    except Refused as refused:
        context = {"codes": refused.codes, "trip": trip}
        return render(request, "consent/blanks_pdf.html", context, status=409)
