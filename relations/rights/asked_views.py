"""The pages for others who ask, and for a picture that was seen where it should not be."""

from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST

from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role, User

from . import asked, queries
from .asked_forms import MisuseForm, MisuseStepForm, OthersAskForm

STEPS = {"told": asked.told_sitters, "asked": asked.asked_down, "gone": asked.gone}


@roles(*HANDS)
def others_ask(request: HttpRequest) -> HttpResponse:
    """The sentence to say, and one press that notes it; what was asked before is for the artist."""
    user = who(request)
    form = OthersAskForm(typed(request), is_artist=user.is_artist)

    def act() -> str:
        said, on = form.typed_in("asked_by", "told"), form.cleaned_data["asked_on"]
        asked.others_asked(person=form.person(), on=on, by=user, **said)
        return reverse("rights:others_ask") + "?noted"

    rows = queries.others_asked() if user.is_artist else None
    is_noted = "noted" in request.GET
    return answer(request, "rights/others_ask.html", form, act, rows=rows, is_noted=is_noted)


@roles(*HANDS)
def misuse(request: HttpRequest) -> HttpResponse:
    """A picture was seen where it should not be; what becomes of it is for the artist."""
    user, form = who(request), MisuseForm(typed(request))

    def act() -> str:
        said = form.typed_in("picture", "where", "seen_on", "hold")
        asked.note_misuse(by=user, at=now(), **said)
        return reverse("rights:misuse") + "?noted"

    is_noted = "noted" in request.GET
    return answer(request, "rights/misuse.html", form, act, is_noted=is_noted, **_seen(user))


@roles(Role.ARTIST)
@require_POST
def misuse_step(request: HttpRequest, key: UUID) -> HttpResponse:
    """They were told, it was asked down, it is gone."""
    user, found = who(request), queries.misuse_or_404(key)
    form = MisuseStepForm(request.POST, key=key)

    def act() -> str:
        STEPS[form.cleaned_data["what"]](misuse=found, on=today(), by=user)
        return reverse("rights:misuse")

    return answer(request, "rights/misuse.html", form, act, **_seen(user))


def _seen(user: User) -> dict[str, Any]:
    """What was seen and is not gone yet, then the rest; whoever noted it sees no list."""
    if not user.is_artist:
        return {"rows": None}
    rows = queries.misuses()
    return {"rows": rows, "first": {row.pk for row in rows if asked.is_told_first(row.picture)}}
