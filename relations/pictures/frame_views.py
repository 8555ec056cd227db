"""Pages of a frame: who else is in it, a crop, words of theirs, and names found in words."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now
from relations.privacy.models import Role

from . import access, actions, queries
from . import leaks as leaky
from .frame_forms import CropForm, QuoteForm, StrangerForm
from .views import address_of


@roles(*HANDS)
def strangers(request: HttpRequest, code: str) -> HttpResponse:
    """Who is in the frame without having sat, and what became of it."""
    user, picture = who(request), access.picture(request.user, code)
    form = StrangerForm(typed(request))

    def act() -> str:
        actions.settle(picture=picture, by=user, at=now(), **form.noted)
        return request.path

    rows = queries.strangers(picture)
    return answer(request, "pictures/strangers.html", form, act, picture=picture, strangers=rows)


@roles(*HANDS)
def crop(request: HttpRequest, code: str) -> HttpResponse:
    """A part of a picture, kept as a picture of its own."""
    user, whole = who(request), access.picture(request.user, code)
    sitters = [one.person for one in queries.in_frame(user, whole)]
    form = CropForm(typed(request), request.FILES or None, whole=whole, sitters=sitters)

    def act() -> str:
        found = actions.add_picture(
            sitting=whole.sitting, by=user, at=now(), in_frame=form.in_frame, **form.noted
        )
        return address_of(found)

    return answer(request, "pictures/crop.html", form, act, picture=whole)


@roles(Role.ARTIST)
def quote(request: HttpRequest, code: str) -> HttpResponse:
    """Words of somebody in the frame, under a code of their own."""
    user, picture = who(request), access.picture(request.user, code)
    sitters = [one.person for one in queries.in_frame(user, picture)]
    form = QuoteForm(typed(request), sitters=sitters)

    def act() -> str:
        actions.add_quote(by=user, at=now(), **form.said)
        return reverse("pictures:caption", args=[picture.code])

    quotes = queries.quotes_in(picture)
    return answer(request, "pictures/quote.html", form, act, picture=picture, quotes=quotes)


@roles(Role.ARTIST)
@require_safe
def leaks(request: HttpRequest) -> HttpResponse:
    """Where a name that is never printed stands in words that go out; whose, never which."""
    return render(request, "pictures/leaks.html", {"leaks": leaky.everywhere()})
