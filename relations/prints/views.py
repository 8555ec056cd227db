"""Pages of the prints that are owed, of the way of each, and of promises."""

from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role, User

from . import actions, asking, endings, queries
from .forms import (
    EndPromiseForm,
    KeptForm,
    PrintsForm,
    PromiseForm,
    StepForm,
    WithoutPictureForm,
)
from .models import Print
from .rules import MAY_BE_BROUGHT, PrintState


def page_of(row: Print, called: str = "prints:way") -> str:
    """The address of the way of a print, or of another page about it."""
    picture = row.picture.code if row.picture else queries.NO_PICTURE
    return reverse(called, args=[row.person.code, picture])


@roles(*HANDS)
@require_safe
def owed(request: HttpRequest) -> HttpResponse:
    """The prints on their way, late first; the artist also sees the counts."""
    user = who(request)
    if user.is_artist:
        actions.keep_from_the_lab()
    context = {"rows": queries.owed(user, today()), "form": PrintsForm(), **_counted(user)}
    return render(request, "prints/owed.html", context)


def _counted(user: User) -> dict[str, Any]:
    """All prints, and group by group: small groups point at people, so for the artist alone."""
    if not user.is_artist:
        return {}
    return {
        "counts": queries.counts(today()),
        "groups": queries.counts_by_group(today()),
        "missing": len(queries.without_print(today())),
    }


@roles(Role.ARTIST)
@require_POST
def owe(request: HttpRequest) -> HttpResponse:
    """Owe a print to everybody in every picture who is owed none yet."""
    user, form = who(request), PrintsForm(request.POST)

    def act() -> str:
        actions.owe(by=user, at=now())
        return reverse("prints:owed")

    context = {"rows": queries.owed(user, today()), **_counted(user)}
    return answer(request, "prints/owed.html", form, act, **context)


@roles(*HANDS)
def without_picture(request: HttpRequest) -> HttpResponse:
    """Somebody sat and nothing came out: it is owed all the same."""
    user = who(request)
    form = WithoutPictureForm(typed(request), user=user)

    def act() -> str:
        person, on = form.cleaned_data["code"], form.cleaned_data["on"]
        return page_of(actions.owe_without_picture(person=person, on=on, by=user, at=now()))

    return answer(request, "prints/without_picture.html", form, act)


@roles(*HANDS)
@require_safe
def way(request: HttpRequest, person: str, picture: str) -> HttpResponse:
    """Where one print is, the next step as one press, the others below."""
    row = queries.print_or_404(who(request), person, picture)
    ways = queries.ways_on(row, today())
    context = {
        "row": row,
        "late": queries.is_late(row, today()),
        "steps": queries.way(row),
        "ways": ways,
        "picture": picture,
        "next": StepForm(print=row, to=ways.next) if ways.next else None,
        "others": [StepForm(print=row, to=to) for to in ways.others],
        "talk": queries.may_be_offered_a_talk(row),
        "may_be_brought": row.state in MAY_BE_BROUGHT and not ways.is_left_alone,
    }
    return render(request, "prints/way.html", context)


@roles(*HANDS)
def step(request: HttpRequest, person: str, picture: str, to: str) -> HttpResponse:
    """One step with what belongs to it; a page that was opened earlier loses nothing."""
    user, row = who(request), queries.print_or_404(who(request), person, picture)
    if to not in set(PrintState):
        raise Http404
    form = StepForm(typed(request), print=row, to=PrintState(to))

    def act() -> str:
        if to == PrintState.ASKED_HOW:
            asking.ask_how(print=row, by=user, at=now(), **form.said())
        else:
            actions.step(print=row, to=to, by=user, at=now(), **form.said())
        return page_of(row, "prints:where" if asking.asks_where(row) else "prints:way")

    return answer(request, "prints/step.html", form, act, row=row, picture=picture, to=to)


@roles(*HANDS)
@require_safe
def promises(request: HttpRequest) -> HttpResponse:
    """What else was promised, what is still to be kept first."""
    rows = queries.promises(who(request))
    return render(
        request, "prints/promises.html", {"rows": rows, "on": today(), "form": PrintsForm()}
    )


@roles(*HANDS)
def new_promise(request: HttpRequest) -> HttpResponse:
    """Note a promise; whose it is, and what, may stand in the address that led here."""
    user = who(request)
    known = {name: request.GET[name] for name in ("code", "kind") if name in request.GET}
    form = PromiseForm(typed(request), user=user, initial=known)

    def act() -> str:
        said = dict(form.cleaned_data)
        person = said.pop("code")
        said.pop("token")
        actions.promise(person=person, by=user, **said)
        return reverse("prints:promises")

    return answer(request, "prints/new_promise.html", form, act)


@roles(*HANDS)
def kept(request: HttpRequest, key: UUID) -> HttpResponse:
    """A promise was kept: the press of a list says today, the page asks for the day."""
    user, promise = who(request), queries.promise_or_404(who(request), key)
    form = KeptForm(typed(request), promise=promise)

    def act() -> str:
        actions.keep_promise(promise=promise, by=user, **form.said)
        return reverse("prints:promises")

    return answer(request, "prints/kept.html", form, act, row=promise)


@roles(*HANDS)
def end_promise(request: HttpRequest, key: UUID) -> HttpResponse:
    """A promise ends without being kept: they let us off, or it could not be."""
    user, promise = who(request), queries.promise_or_404(who(request), key)
    form = EndPromiseForm(typed(request), user=user)

    def act() -> str:
        said = form.typed_in("how", "why", "on")
        endings.end_promise(promise=promise, by=user, at=now(), **said)
        return reverse("prints:promises")

    return answer(request, "prints/end_promise.html", form, act, row=promise)
