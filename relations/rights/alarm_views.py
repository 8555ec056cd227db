"""Pages of an alarm that anybody raises by password alone, of telling people, clock and card."""

from functools import cache
from gettext import find
from typing import Any
from uuid import UUID

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import translation
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from relations.consent.views import as_pdf
from relations.documents.one_language import lay_out_in
from relations.languages.direction import direction
from relations.people import access
from relations.people.queries import lines
from relations.privacy.access import EVERYONE, open_first, roles
from relations.privacy.answering import again, answer, calmly, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role, User
from relations.privacy.once import once
from relations.privacy.views import FORM_METHODS

from . import actions, queries, telling
from .forms import AuthorityForm, LostForm, TellForm
from .telling import ToRing
from .views import FOLLOWING
from .words import CARD

# Two cards of each language on one sheet: one to carry, one for the day it is lost.
CARDS = "12"


@sensitive_post_parameters("password")
@require_http_methods(FORM_METHODS)
@calmly
def lost(request: HttpRequest) -> HttpResponse:
    """Something was lost, told from any browser: name and password, and no code.

    It lets nobody in and shows nobody. The answer is the card itself, so that on a bad line one
    sending is enough; the same page sent again raises nothing anew.
    """
    if isinstance(request.user, User):
        return redirect("rights:alarm")
    form = LostForm(typed(request), request=request)
    if not form.is_valid() or form.user is None:
        return again(request, "rights/lost.html", form)
    user, what = form.user, form.cleaned_data["what"]

    def act() -> str:
        actions.raise_alarm(what=what, by=user, at=now())
        return reverse("rights:lost")

    once(form.token, user, act)
    # Whatever this browser held, a venue's session or half a sign-in, has ended with the rest.
    request.session.flush()
    with translation.override(user.language):
        return render(request, "rights/heard.html", {"card": CARD})


def _of(request: HttpRequest, key: UUID, code: str) -> dict[str, Any]:
    """What the page of one person says: when to ring, in which words, by which of their lines."""
    alarm = queries.alarm_or_404(key)
    ring = telling.one_of(alarm, code, now())
    words = telling.words_for(ring.person, who(request))
    context = {"alarm": alarm, "ring": ring, "words": words, "lines": lines(ring.person)}
    return {**context, "at": now(), "number": None}


@roles(Role.ARTIST)
def tell(request: HttpRequest, key: UUID, code: str) -> HttpResponse:
    """Ring one person: the words to say, whether now; and one press when they were told."""
    user, form, context = who(request), TellForm(typed(request)), _of(request, key, code)
    ring: ToRing = context["ring"]

    def act() -> str:
        actions.tell(alarm=context["alarm"], person=ring.person, by=user, at=now())
        return reverse("rights:affected", args=[key])

    return answer(request, "rights/tell.html", form, act, **context)


@roles(Role.ARTIST)
@require_POST
def tell_number(request: HttpRequest, key: UUID, code: str, line: UUID) -> HttpResponse:
    """The same page with one number opened; the log keeps who looked."""
    context, found = _of(request, key, code), access.line(request.user, code, line)
    if not context["ring"].may_show:
        return redirect("rights:tell", key, code)
    context["number"] = access.show_number(who(request), found)
    return again(request, "rights/tell.html", TellForm(None), **context)


@roles(*FOLLOWING)
def authority(request: HttpRequest, key: UUID) -> HttpResponse:
    """The clock of 72 hours, and what the authority was told; nobody stands on this page."""
    user, alarm = who(request), queries.alarm_or_404(key)
    form = AuthorityForm(typed(request))

    def act() -> str:
        actions.note_authority(
            alarm=alarm, by=user, on=today(), **form.typed_in("told_on", "why_not")
        )
        return reverse("rights:authority", args=[key])

    return answer(request, "rights/authority.html", form, act, alarm=alarm)


@roles(*EVERYONE)
@open_first
@require_safe
def card(request: HttpRequest) -> HttpResponse:
    """The five lines to carry, in each language of the site, the reader's first; no name on it."""
    language = translation.get_language() or settings.LANGUAGE_CODE
    return as_pdf(_paper(language), "card")


@cache
def _paper(language: str) -> bytes:
    """The sheet of cards as a tagged PDF; it is the same for everybody, so it is made once."""
    site = [tag for tag, _ in settings.LANGUAGES if _is_spoken(tag)]
    cards = [_said(tag) for tag in dict.fromkeys((language, *site))]
    made = lay_out_in(
        "rights/paper/card.html",
        {"cards": cards, "each": CARDS},
        style="rights/paper/card.css",
        title="card",
        language=language,
    )
    return made.content


def _is_spoken(tag: str) -> bool:
    """Whether the site has its words in this language: its own, or one with a catalogue."""
    return tag == "en" or find("django", settings.LOCALE_PATHS[0], [tag]) is not None


def _said(tag: str) -> dict[str, Any]:
    with translation.override(tag):
        lines = [str(line) for line in CARD]
        return {"lang": tag, "direction": direction(tag), "lines": lines}
