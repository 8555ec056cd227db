"""The page of a life that changes: a new name, a move abroad, and where the rest is noted."""

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST

from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import access, changes
from .change_forms import AskedAgainForm, MovedForm, NewNameForm
from .models import Participant


def page_of(person: Participant) -> str:
    """The address of the page on which a change is noted."""
    return reverse("people:changed", args=[person.code])


@roles(*HANDS)
def changed(request: HttpRequest, code: str) -> HttpResponse:
    """What changed, and what follows from it; a move abroad is noted here."""
    user, person = who(request), access.person(request.user, code)
    form = MovedForm(typed(request))

    def act() -> str:
        since = form.cleaned_data["since"]
        changes.moved_abroad(person=person, since=since, by=user, at=now())
        return page_of(person)

    moved = changes.to_be_asked(person)
    return answer(request, "people/changed.html", form, act, person=person, moved=moved)


@roles(*HANDS)
@require_POST
def asked_again(request: HttpRequest, code: str) -> HttpResponse:
    """They were asked in which countries they may be shown."""
    user, person = who(request), access.person(request.user, code)
    form = AskedAgainForm(request.POST)

    def act() -> str:
        changes.asked_again(person=person, on=today(), by=user)
        return page_of(person)

    moved = changes.to_be_asked(person)
    return answer(request, "people/changed.html", form, act, person=person, moved=moved)


@roles(Role.ARTIST)
@sure_within(SURE)
def new_name(request: HttpRequest, code: str) -> HttpResponse:
    """A new name; what they were called before is never printed again."""
    user, person = who(request), access.person(request.user, code)
    form = NewNameForm(typed(request))

    def act() -> str:
        said = form.typed_in("text", "script", "call_name")
        changes.new_name(person=person, by=user, at=now(), **said)
        return page_of(person)

    return answer(request, "people/new_name.html", form, act, person=person)
