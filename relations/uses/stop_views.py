"""A stop, by anybody who hears it: whom, what, and what must come down."""

from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.consent.actions import answer_them, take_back
from relations.consent.values import Use
from relations.people import access
from relations.people.models import Participant
from relations.privacy.access import EVERYONE, HANDS, open_first, roles
from relations.privacy.answering import again, answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import User

from . import actions, coming_down, queries
from .forms import StopForm, StopUnseenForm, ToldForm, UndoForm, WhomForm


def _stop(person: Participant, form: StopForm, by: User) -> None:
    """Hear the no and list what must come down, in the transaction of the press."""
    at = now()
    what = form.cleaned_data["what"]
    take_back(person=person, said_on=form.cleaned_data["said_on"], by=by, at=at, **what)
    actions.open_undo(person=person, by=by, at=at)


@roles(*EVERYONE)
@open_first
def stop_whom(request: HttpRequest) -> HttpResponse:
    """Whose stop it is: a code that was said, or somebody in sight."""
    user, form = who(request), WhomForm(typed(request))
    if not form.is_valid():
        return again(request, "uses/stop_whom.html", form, people=queries.to_pick(user))
    person = form.cleaned_data["code"]
    if access.in_sight(user, person):
        return redirect("uses:stop", person.code)
    # Of somebody out of sight nothing is shown but the code that was typed.
    unseen = StopUnseenForm(initial={"code": person.code})
    return render(request, "uses/stop_unseen.html", {"form": unseen, "uses": tuple(Use)})


@roles(*EVERYONE)
@open_first
@require_POST
def stop_unseen(request: HttpRequest) -> HttpResponse:
    """The press for somebody out of sight; the answer says that it is stopped and no more."""
    user, form = who(request), StopUnseenForm(request.POST)

    def act() -> str:
        _stop(form.cleaned_data["code"], form, user)
        return reverse("uses:stopped")

    return answer(request, "uses/stop_unseen.html", form, act, uses=tuple(Use))


@roles(*EVERYONE)
@open_first
@require_safe
def stopped(request: HttpRequest) -> HttpResponse:
    """It is stopped."""
    return render(request, "uses/stopped.html")


@roles(*HANDS)
@open_first
def stop(request: HttpRequest, code: str) -> HttpResponse:
    """Everything, one use or one picture: one press each, without a password."""
    user, person = who(request), access.person(request.user, code)
    form = StopForm(typed(request))

    def act() -> str:
        _stop(person, form, user)
        return reverse("uses:undo", args=[person.code])

    own = queries.pictures_of(person)
    return answer(
        request, "uses/stop.html", form, act, person=person, uses=tuple(Use), pictures=own
    )


@roles(*HANDS)
@open_first
def undo(request: HttpRequest, code: str) -> HttpResponse:
    """What must come down and by when, what is asked of others, what cannot be undone."""
    user, person = who(request), access.person(request.user, code)
    form = ToldForm(typed(request))

    def act() -> str:
        for line in queries.undo_lines(user, person):
            actions.told(line=line, on=today(), by=user)
        answer_them(person=person, on=today(), by=user)
        return reverse("uses:undo", args=[person.code])

    return answer(request, "uses/undo.html", form, act, person=person, **_undone(user, person))


def _undone(user: User, person: Participant) -> dict[str, Any]:
    """What the list of one person shows; a later stop is not hidden by an earlier one."""
    return {
        "parts": queries.parts(queries.undo_lines(user, person)),
        "said": queries.taken_back(person),
        "at": now(),
    }


@roles(*HANDS)
@require_POST
def undo_line(request: HttpRequest, code: str, key: UUID) -> HttpResponse:
    """One line: it is done, it cannot be done, or they were told."""
    user, person = who(request), access.person(request.user, code)
    line = queries.undo_line_or_404(user, person, key)
    form = UndoForm(request.POST, line=line)

    def act() -> str:
        what = form.cleaned_data["what"]
        if what == "told":
            actions.told(line=line, on=today(), by=user)
        elif what == "holder":
            actions.told_holder(line=line, on=today(), by=user)
        else:
            actions.undo_done(line=line, on=today(), by=user, cannot=what == "cannot")
        return reverse("uses:undo", args=[person.code])

    return answer(request, "uses/undo.html", form, act, person=person, **_undone(user, person))


@roles(*HANDS)
@require_safe
def undo_all(request: HttpRequest) -> HttpResponse:
    """Everything that still waits to come down, soonest first, of all whom the user may see."""
    lines = coming_down.waiting(queries.undo_lines(who(request)))
    return render(request, "uses/undo_all.html", {"lines": lines, "at": now()})
