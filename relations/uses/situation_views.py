"""The pages of a change of the situation: who is looked at again, and what went out of date."""

from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse

from relations.privacy.access import roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role

from . import situations
from .situation_forms import LookedForm, SituationForm


@roles(Role.ARTIST)
def situation(request: HttpRequest) -> HttpResponse:
    """Mark a group, a place or a set of people: look again before any use."""
    user, form = who(request), SituationForm(typed(request))

    def act() -> str:
        key = situations.look_again(
            persons=situations.whom(**form.whom),
            next_look_on=form.cleaned_data["next_look_on"],
            by=user,
            at=now(),
        )
        return reverse("uses:situation_of", args=[key])

    changes = situations.open_ones()
    return answer(request, "uses/situation.html", form, act, changes=changes, on=today())


@roles(Role.ARTIST)
def situation_of(request: HttpRequest, key: UUID) -> HttpResponse:
    """What one change touched; a sentence of what was found lifts it for all of them."""
    user, held = who(request), list(situations.held(key))
    if not held:
        raise Http404
    form = LookedForm(typed(request))

    def act() -> str:
        sentence = form.cleaned_data["sentence"]
        situations.looked(key=key, sentence=sentence, by=user, at=now())
        return reverse("uses:situation_of", args=[key])

    return answer(
        request,
        "uses/situation_of.html",
        form,
        act,
        held=held,
        is_open=any(one.lifted_at is None for one in held),
        touched=situations.touched(one.person for one in held),
    )
