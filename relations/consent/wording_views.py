"""Pages of wordings: all of them, one beside another for its second reader, and to be written."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from relations.privacy.access import EVERYONE, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import access, actions, side_by_side
from .texts import Wording
from .wording_forms import WordingForm, WriteForm

WRITERS = (Role.ARTIST, Role.WORDING_READER)


def wording_of(wording: Wording) -> str:
    """The address of one wording."""
    return reverse("consent:wording", args=[wording.language, wording.version])


@roles(*EVERYONE)
@require_safe
def wordings(request: HttpRequest) -> HttpResponse:
    """Every language's wordings: their state, by whom they were read, or who may read them."""
    user = who(request)
    newest = [one for one in access.newest(user) if access.may_write(user, one.language)]
    context = {
        "wordings": access.readers(access.wordings(user)),
        "writes": newest,
    }
    return render(request, "consent/wordings.html", context)


@roles(*EVERYONE)
@sure_within(SURE, sent_only=True)
def wording(request: HttpRequest, language: str, version: int) -> HttpResponse:
    """One wording beside another, clause by clause; its second reader approves here."""
    user = who(request)
    shown = access.wording(user, language, version)
    form = WordingForm(typed(request), user=user, wording=shown)

    def act() -> str:
        if form.name:
            access.clause(shown, form.name)
        actions.read_page(wording=shown, press=form.pressed, by=user, at=now())
        return wording_of(shown) + (f"#{form.name}" if form.name else "")

    context = side_by_side.shown(user, shown, side_by_side.beside(user, shown), form)
    return answer(request, "consent/wording.html", form, act, **context)


@roles(*WRITERS)
def write(request: HttpRequest, language: str) -> HttpResponse:
    """The clauses of a language, to be written; a frozen wording is followed by a new version."""
    user = who(request)
    model = side_by_side.model_for(user, language)
    form = WriteForm(typed(request), user=user, model=model, language=language)

    def act() -> str:
        written = actions.write_wording(
            language=language, texts=form.texts, labels=form.labels, stands=form.stands, by=user
        )
        return wording_of(written)

    return answer(request, "consent/write.html", form, act, model=model, language=language)
