"""Pages of a trip: what is planned, what is carried, its pack, and whether all came home."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.consent import blanks
from relations.consent.views import as_pdf
from relations.meetings import travelling
from relations.meetings.models import Trip
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role

from . import actions, packing, queries, rules
from . import portfolio as carried
from .forms import CountForm, DaysForm, PackForm, PlanForm, PressForm, PrinterForm
from .values import Part


def address_of(trip: Trip) -> str:
    """The address of one trip: its code."""
    return reverse("trips:detail", args=[trip.code])


@roles(*HANDS)
@require_safe
def detail(request: HttpRequest, code: str) -> HttpResponse:
    """A trip at a look: days, who is planned, blanks, film, and the ways on."""
    trip, user = get_object_or_404(Trip, code=code), who(request)
    context = {"outline": queries.outline(trip, user), "kept": queries.kept(trip, user)}
    context["sets"] = travelling.of_trip(trip)
    return render(request, "trips/detail.html", {"trip": trip, **context})


@roles(*HANDS)
def days(request: HttpRequest, code: str) -> HttpResponse:
    """On which days we work, on which prints go round, and where the trip goes."""
    user, trip = who(request), get_object_or_404(Trip, code=code)
    held, stay = queries.days(trip), queries.stay(trip)
    form = DaysForm(typed(request), trip=trip, held=held, stay=stay)

    def act() -> str:
        actions.set_days(trip=trip, by=user, **form.said)
        return address_of(trip)

    return answer(request, "trips/days.html", form, act, trip=trip)


@roles(*HANDS)
def plan(request: HttpRequest, code: str) -> HttpResponse:
    """Plan somebody: a sitting or a talk, who comes along, how much film."""
    user, trip = who(request), get_object_or_404(Trip, code=code)
    form = PlanForm(typed(request), user=user)

    def act() -> str:
        actions.plan(trip=trip, by=user, on=today(), **form.said)
        return address_of(trip)

    return answer(request, "trips/plan.html", form, act, trip=trip)


@roles(Role.ARTIST)
@require_safe
def portfolio(request: HttpRequest, code: str) -> HttpResponse:
    """Which pictures may be carried, and why the others stay.

    The artist packs them (job.md row 12): what may be carried follows the levels, which an
    assistant sees in no byte of any page.
    """
    trip = get_object_or_404(Trip, code=code)
    context = {
        "trip": trip,
        "stay": queries.stay(trip),
        "portfolio": carried.portfolio(trip, today()),
        "at": now(),
    }
    return render(request, "trips/portfolio.html", context)


def _printing(request: HttpRequest, contents: packing.Contents) -> dict[str, Any]:
    """How long each part takes, and whether it fits before the power goes."""
    asked = request.GET if "begin" in request.GET else None
    form = PrinterForm(asked, initial={"begin": now().time()})
    sizes = {Part.WHOLE: contents.size, Part.SHORT: contents.top.size}
    if not form.is_valid():
        return {"printer": form, "sizes": sizes, "verdict": None}
    said = form.cleaned_data
    speed = said["a_minute"]
    fits = {
        part: rules.fits(said["begin"], said["cut"], size.pages, speed)
        for part, size in sizes.items()
    }
    lasts = {part: rules.minutes(size.pages, speed) for part, size in sizes.items()}
    verdict = next((part.value for part, is_fine in fits.items() if is_fine), "none")
    return {"printer": form, "sizes": sizes, "verdict": verdict, "lasts": lasts, **said}


@roles(*HANDS)
def pack(request: HttpRequest, code: str) -> HttpResponse:
    """The pack: how many pages, whether it fits before the power goes, and the press for it."""
    user, trip = who(request), get_object_or_404(Trip, code=code)
    form, made = PackForm(typed(request)), list[bytes]()

    def act() -> str:
        part = Part(form.cleaned_data["part"])
        made.append(packing.pack(trip=trip, part=part, by=user, at=now()))
        return request.path

    contents = packing.contents(trip)
    still = sum(need.missing for need in blanks.proposed(trip))
    context = {"trip": trip, "contents": contents, "still": still, **_printing(request, contents)}
    response = answer(request, "trips/pack.html", form, act, **context)
    return as_pdf(made[0], f"pack-{trip.code}") if made else response


@roles(*HANDS)
def balance(request: HttpRequest, code: str) -> HttpResponse:
    """What came home: blanks heap by heap, the rest as it is counted, and what is still open."""
    user, trip = who(request), get_object_or_404(Trip, code=code)
    home = queries.home(trip)
    held = {tally.thing: tally.counts for tally in home.tallies}
    form = CountForm(typed(request), trip=trip, held=held, noted=queries.noted(trip))

    def act() -> str:
        actions.count(trip=trip, counts=form.counts, by=user, at=now())
        return reverse("trips:balance", args=[trip.code])

    context = {"trip": trip, "home": home, "blanks": home.blanks, "stay": queries.stay(trip)}
    more = {"press": PressForm(), "missing": queries.missing(trip), "on": today()}
    return answer(request, "trips/balance.html", form, act, **context, **more)


@roles(*HANDS)
@require_POST
def alarm(request: HttpRequest, code: str) -> HttpResponse:
    """Open the alarm that names every blank which is missing."""
    user, trip = who(request), get_object_or_404(Trip, code=code)
    form = PressForm(request.POST, of=request.path)

    def act() -> str:
        actions.sound(trip=trip, by=user, at=now())
        return reverse("trips:balance", args=[trip.code])

    return answer(request, "trips/close.html", form, act, trip=trip)


@roles(*HANDS)
@require_POST
def write_off(request: HttpRequest, code: str, serial: str) -> HttpResponse:
    """A missing blank whose alarm is over is looked for no more."""
    user, trip = who(request), get_object_or_404(Trip, code=code)
    form = PressForm(request.POST, of=request.path)
    paper = queries.blank_or_404(trip, serial)

    def act() -> str:
        actions.write_off(form=paper, by=user, on=today())
        return reverse("trips:balance", args=[trip.code])

    return answer(request, "trips/close.html", form, act, trip=trip)


@roles(*HANDS)
@require_POST
def close(request: HttpRequest, code: str) -> HttpResponse:
    """Close a trip on which everything came home."""
    user, trip = who(request), get_object_or_404(Trip, code=code)
    form = PressForm(request.POST, of=request.path)

    def act() -> str:
        actions.close(trip=trip, by=user, on=today())
        return reverse("trips:balance", args=[trip.code])

    return answer(request, "trips/close.html", form, act, trip=trip)
