"""The ring list and the ring card, with the small pages behind its presses."""

from gettext import find
from typing import Any
from uuid import UUID

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import get_language
from django.views.decorators.http import require_POST, require_safe

from relations.people import access
from relations.people.models import Participant
from relations.people.queries import lines as lines_of
from relations.people.queries import open_hold
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import again, answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import User

from . import actions, due, known_helpers, queries
from .ring_forms import LaterForm, NeverForm, PlanForm, RingForm, ThinkingForm
from .values import PLAIN_HOURS, NextRing, Outcome

O = Outcome  # noqa: E741 - the groups below read as the card does
NOT_SPOKEN = (O.NO_ANSWER, O.OFF, O.SOMEONE_ELSE, O.WRONG_NUMBER)
SPOKEN = (O.YES_MEET, O.RING_LATER, O.THINKING, O.WANTS_PICTURES, O.NEEDS_INTERPRETER)
SPOKEN_WITH_SITTERS = (queries.SPOKE, O.RING_LATER, O.YES_MEET, O.NEEDS_INTERPRETER)
LEAVE_THEM = (O.NO, O.NEVER_AGAIN)
TAKE_CARE = (O.BROKE_OFF, O.ASKS_WHO)


@roles(*HANDS)
@require_safe
def rings(request: HttpRequest) -> HttpResponse:
    """The rings that fit now; the artist also sees who waits for one, and why."""
    user = who(request)
    context: dict[str, Any] = {
        "due": due.rings_due(user, now()),
        "coming": due.coming_rings(user, today()),
        "at": now(),
    }
    if user.is_artist:
        context["waiting"] = due.waiting_for_a_ring(user)
        context["through"] = due.only_through_introducer(user)
    return render(request, "meetings/rings.html", context)


def card(person: Participant, user: User) -> dict[str, Any]:
    """What the ring card says: how to ring, whether now, and what each outcome leads to."""
    call, lines = queries.planned(person), queries.open_lines(person)
    zone = queries.zone_of(lines)
    local = now().astimezone(zone)
    hours = due.windows(person, call, local)
    has_sat, hold = queries.has_sat(person), open_hold(person)
    rest = queries.rest_until(person, today())
    closed = bool(hold or rest) or queries.is_not_rung(person)
    is_now = any(window.holds(local.time()) for window in hours)
    return {
        "person": person, "call": call, "local": local, "hours": hours, "hold": hold,
        "rest": rest, "closed": closed, "has_sat": has_sat, "lines": lines_of(person),
        "may_show": is_now and not closed, "is_now": is_now,
        "is_shared": any(line.is_shared for line in lines), "sent_by": queries.may_say(person),
        "ours": queries.by_our_clock(person, now()),
        "last": queries.last_rings(person), "groups": outcomes(person, has_sat=has_sat),
        "zone": queries.zone_name(zone), "local_hour": f"{local:%H:%M}", "local_day": local.date(),
        "safe": queries.safe_times(person).hours or PLAIN_HOURS,
        "interpreters": known_helpers.interpreters_for(person, user), "scripts": scripts(person),
    }  # fmt: skip


def scripts(person: Participant) -> list[str]:
    """The languages of the site in which the six beats are shown: one of theirs, and the reader's.

    What is said is said in their language; who rings reads the page in their own.
    """
    reader = get_language() or settings.LANGUAGE_CODE
    site, catalogues = dict(settings.LANGUAGES), settings.LOCALE_PATHS[0]
    theirs = [
        tag
        for tag in person.language_list
        if tag in site and (tag == "en" or find("django", catalogues, [tag]))
    ]
    return list(dict.fromkeys((*theirs[:1], reader)))


def outcomes(person: Participant, *, has_sat: bool) -> dict[str, list[tuple[str, NextRing | None]]]:
    """The presses of the card by group, each with what would follow it."""
    follows = queries.what_follows(person, set(Outcome) - {O.RING_LATER}, now(), None)
    after: dict[str, NextRing] = {str(outcome): ring for outcome, ring in follows.items()}
    spoken = SPOKEN_WITH_SITTERS if has_sat else SPOKEN
    groups: dict[str, tuple[str, ...]] = {"not_spoken": NOT_SPOKEN, "spoken": spoken}
    groups |= {"leave": LEAVE_THEM, "care": TAKE_CARE}
    return {
        name: [(outcome, after.get(outcome)) for outcome in presses]
        for name, presses in groups.items()
    }


@roles(*HANDS)
def ring(request: HttpRequest, code: str) -> HttpResponse:
    """The ring card: what may be said, and what came of it in one press."""
    user, person = who(request), access.person(request.user, code)
    form = RingForm(typed(request), person=person)

    def act() -> str:
        outcome = form.cleaned_data["outcome"]
        if outcome not in queries.STOPS:
            form.refuse_old_page()
        about: dict[str, Any] = {"person": person, "by": user, "at": now(), **form.ring}
        if outcome == queries.SPOKE:
            actions.note_spoke(**about)
        else:
            actions.note_call(**about, outcome=outcome)
        if outcome == Outcome.YES_MEET:
            return reverse("meetings:fix", args=[person.code])
        return reverse("meetings:rings")

    return answer(request, "meetings/ring.html", form, act, **card(person, user))


@roles(*HANDS)
@require_POST
def number(request: HttpRequest, code: str, key: UUID) -> HttpResponse:
    """The ring card with one number opened, while they may be rung; the log keeps who looked."""
    user, line = who(request), access.line(request.user, code, key)
    shown = card(line.person, user)
    if not shown["may_show"]:
        return redirect("meetings:ring", line.person.code)
    form = RingForm(None, person=line.person)
    opened = access.show_number(user, line)
    return again(request, "meetings/number.html", form, **shown, number=opened, line=line)


@roles(*HANDS)
def ring_later(request: HttpRequest, code: str) -> HttpResponse:
    """They named a day, or a day and an hour."""
    user, person = who(request), access.person(request.user, code)
    form = LaterForm(typed(request), person=person)

    def act() -> str:
        form.refuse_old_page()
        actions.note_call(
            person=person, outcome=Outcome.RING_LATER, by=user, at=now(), **form.ring,
            **form.asked_for,
        )  # fmt: skip
        return reverse("meetings:rings")

    return answer(request, "meetings/ring_later.html", form, act, person=person)


@roles(*HANDS)
def thinking(request: HttpRequest, code: str) -> HttpResponse:
    """They think it over until a day that they named."""
    user, person = who(request), access.person(request.user, code)
    form = ThinkingForm(typed(request), person=person)

    def act() -> str:
        form.refuse_old_page()
        data = form.cleaned_data
        actions.note_call(
            person=person, outcome=data["outcome"], by=user, at=now(), **form.ring,
            asked_for_on=data["day"],
        )  # fmt: skip
        return reverse("meetings:rings")

    return answer(request, "meetings/thinking.html", form, act, person=person)


@roles(*HANDS)
def never(request: HttpRequest, code: str) -> HttpResponse:
    """Asks once, then the ring stops for ever."""
    user, person = who(request), access.person(request.user, code)
    form = NeverForm(typed(request), person=person)

    def act() -> str:
        actions.note_call(
            person=person, outcome=Outcome.NEVER_AGAIN, by=user, at=now(), **form.ring
        )
        return reverse("meetings:rings")

    return answer(request, "meetings/never.html", form, act, person=person)


@roles(*HANDS)
def plan(request: HttpRequest, code: str) -> HttpResponse:
    """Plan the next ring to a person, or put the planned one off."""
    user, person = who(request), access.person(request.user, code)
    call = queries.planned(person)
    initial = {"due_on": call.due_on} if call else None
    form = PlanForm(typed(request), initial=initial)

    def act() -> str:
        if call is None:
            actions.plan_ring(person=person, by=user, **form.typed_in("due_on"))
        else:
            actions.put_off(call=call, by=user, **form.typed_in("due_on"))
        return reverse("meetings:rings")

    return answer(request, "meetings/plan.html", form, act, person=person, call=call)
