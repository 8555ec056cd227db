"""Pages of the drawings: of a line, a group or everybody, by days, by steps, and on paper."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST, require_safe

from relations.people import access
from relations.privacy.access import roles
from relations.privacy.answering import again, typed, who
from relations.privacy.home import today
from relations.privacy.log import note
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import drawn, papers
from .growth_forms import PaperForm
from .scopes import House, Scope, opened

Draw = Callable[[House, Scope], drawn.Picture]


def _drawn(request: HttpRequest, by: str, of: str, draw: Draw, page: str) -> HttpResponse:
    house = House()
    scope = house.scope(by, of)
    note(who(request), "read", "map", None)
    return render(request, page, {"picture": draw(house, scope), "house": house})


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def growth(request: HttpRequest, by: str, of: str) -> HttpResponse:
    """One line, one group or everybody by the day their names were heard; by code, and noted."""
    return _drawn(request, by, of, drawn.picture, "referrals/growth.html")


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def waves(request: HttpRequest, by: str, of: str) -> HttpResponse:
    """The same by steps away from us."""
    return _drawn(request, by, of, drawn.by_steps, "referrals/waves.html")


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def person(request: HttpRequest, code: str) -> HttpResponse:
    """The way to one person, whom they told us of, and who else spoke of them or for them."""
    about = access.person(request.user, code)
    picture = drawn.of_one(House(), about.code)
    access.note_read(who(request), "map", about)
    return render(request, "referrals/person.html", {"picture": picture, "code": about.code})


@roles(Role.ARTIST)
@sure_within(SURE)
@require_POST
def names(request: HttpRequest, by: str, of: str) -> HttpResponse:
    """The drawing with names, as the answer to a press and at no address; noted as names."""
    scope = House().scope(by, of)
    note(who(request), "read", "names", None)
    house = opened(who(request), scope)
    context = {"picture": drawn.picture(house, scope), "house": house}
    return render(request, "referrals/names.html", context)


@roles(Role.ARTIST)
@sure_within(SURE)
def growth_pdf(request: HttpRequest, by: str, of: str) -> HttpResponse:
    """A drawing on paper, by code or by name; that it was printed is noted."""
    house = House()
    scope = house.scope(by, of)
    form = PaperForm(typed(request))
    if not form.is_valid():
        return again(request, "referrals/growth_pdf.html", form, scope=scope)
    is_named = form.cleaned_data["labels"] == "names"
    note(who(request), "printed", "names" if is_named else "map", None)
    content = papers.paper(
        opened(who(request), scope) if is_named else house,
        scope,
        on=papers.Paper(form.cleaned_data["paper"]),
        spread=papers.Sheets(form.cleaned_data["sheets"]),
        printed=today(),
    )
    response = HttpResponse(content, content_type="application/pdf")
    response.headers["Content-Disposition"] = 'inline; filename="introductions.pdf"'
    return response
