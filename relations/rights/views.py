"""The pages of an alarm, raised by anybody in one press, and of the last good backup."""

from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from relations.meetings import travelling
from relations.privacy.access import EVERYONE, open_first, roles
from relations.privacy.answering import again, answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role, User
from relations.privacy.once import once

from . import actions, queries, telling
from .forms import AlarmForm, CloseForm
from .words import BACK_UP, CARD, PRESSES

FOLLOWING = (Role.ARTIST, Role.KEEPER)


def _card(user: User) -> dict[str, Any]:
    """The five lines for everybody; who follows an alarm also sees those there are."""
    rows = queries.alarms() if user.is_one_of(*FOLLOWING) else None
    return {"card": CARD, "lost": PRESSES, "rows": rows}


@roles(*EVERYONE)
@open_first
def alarm(request: HttpRequest) -> HttpResponse:
    """Something was lost or taken: one press, then the card of five lines."""
    user, form = who(request), AlarmForm(typed(request))

    def act() -> str:
        actions.raise_alarm(what=form.cleaned_data["what"], by=user, at=now())
        return reverse("rights:raised")

    if form.is_valid():
        address = once(form.token, user, act)
        # Every session has ended. Whoever told goes on in a new one, to read
        # what to do; the old key opens nothing any more.
        request.session.cycle_key()
        return redirect(address)
    return again(request, "rights/alarm.html", form, **_card(user))


@roles(*EVERYONE)
@open_first
@require_safe
def raised(request: HttpRequest) -> HttpResponse:
    """The alarm is raised: what was done, and the five lines."""
    return render(request, "rights/raised.html", _card(who(request)))


@roles(Role.ARTIST)
@require_safe
def affected(request: HttpRequest, key: UUID) -> HttpResponse:
    """Whom to ring of an alarm, grave first, and how many hours are left for the authority."""
    found = queries.alarm_or_404(key)
    rings = telling.ring_list(found, now())
    context = {
        "alarm": found,
        "rings": rings,
        "waiting": sum(one.told is None for one in rings),
        "sets": travelling.ended_by_alarm(found.known_at),
    }
    return render(request, "rights/affected.html", context)


@roles(*FOLLOWING)
@require_POST
def close(request: HttpRequest, key: UUID) -> HttpResponse:
    """The alarm is over."""
    user, found = who(request), queries.alarm_or_404(key)
    form = CloseForm(request.POST, key=key)

    def act() -> str:
        actions.close_alarm(alarm=found, by=user, on=today())
        return reverse("rights:alarm")

    return answer(request, "rights/alarm.html", form, act, **_card(user))


@roles(*FOLLOWING)
@require_safe
def backups(request: HttpRequest) -> HttpResponse:
    """The last good backup, how old it is, and what to do."""
    context = {"backup": queries.backup_state(timezone.now()), "command": BACK_UP}
    return render(request, "rights/backups.html", context)
