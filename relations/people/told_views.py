"""Pages on who told us of somebody: one more word, and a word that was noted wrongly."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse

from relations.privacy.access import roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now
from relations.privacy.models import Role

from . import access, actions, links, queries
from .told_forms import MendDayForm, MendToldForm, SourceForm
from .views import detail_of


@roles(Role.ARTIST)
def told(request: HttpRequest, code: str) -> HttpResponse:
    """Somebody else told us of a person whom we know: the artist alone may know that we do."""
    user, person = who(request), access.person(request.user, code)
    form = SourceForm(typed(request))

    def act() -> str:
        actions.hear_again(person=person, by=user, **form.source_of)
        return detail_of(person)

    return answer(request, "people/told.html", form, act, person=person)


@roles(Role.ARTIST)
def mend_told(request: HttpRequest, code: str, key: UUID) -> HttpResponse:
    """Who told us, or when, put right; what stood there stays readable to the artist."""
    user, person = who(request), access.person(request.user, code)
    hearing = queries.hearing_or_404(person, key)
    shape = MendDayForm if hearing.is_withheld else MendToldForm
    form = shape(typed(request), told=hearing)

    def act() -> str:
        links.mend_hearing(told=hearing, by=user, at=now(), **form.source_of)
        return detail_of(person)

    return answer(request, "people/mend_told.html", form, act, person=person, told=hearing)
