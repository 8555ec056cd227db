"""Pages of what is said of a picture and of its words, when it is shown and they are read aloud."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from relations.people.access import person as person_in_sight
from relations.pictures import access as pictures
from relations.pictures import queries as frames
from relations.privacy.access import roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now
from relations.privacy.models import Role

from . import access, aloud
from .aloud_forms import AloudForm


@roles(Role.ARTIST)
@require_safe
def said_of(request: HttpRequest, picture: str) -> HttpResponse:
    """What everybody in a picture said of it, of its words and of their own."""
    found = pictures.picture(request.user, picture)
    context = {
        "picture": found,
        "caption": frames.newest_caption(found),
        "heard": aloud.heard(found),
    }
    return render(request, "consent/said_of.html", context)


@roles(Role.ARTIST)
def read_to(request: HttpRequest, picture: str, code: str) -> HttpResponse:
    """The picture is shown to one person and its words are read to them."""
    user, found = who(request), pictures.picture(request.user, picture)
    person, caption = person_in_sight(request.user, code), frames.newest_caption(found)
    heard = aloud.heard_of(found, person)
    if heard is None:
        raise Http404
    form = AloudForm(typed(request), user=user, heard=heard, caption=caption)
    form.offer(aloud.readers(), [wording.language for wording in access.newest(user)])

    def act() -> str:
        aloud.read_to(picture=found, person=person, by=user, at=now(), **form.said)
        return reverse("consent:said_of", args=[found.code])

    page = {"picture": found, "one": heard, "caption": caption}
    return answer(request, "consent/read_to.html", form, act, **page)
