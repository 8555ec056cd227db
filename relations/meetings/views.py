"""Pages of meetings, trips and those who help."""

from typing import Any
from uuid import UUID

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.people.access import person as person_in_sight
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today

from . import access, actions, queries
from .forms import FixForm, HelperForm, PressForm, TripForm, WriteUpForm
from .models import Meeting
from .rules import missing_before_form
from .values import MeetingState

A_PAGE = 50
PRESSED = {
    MeetingState.CONFIRMED: actions.confirm,
    MeetingState.HELD: actions.hold_it,
    MeetingState.MOVED: actions.move,
    MeetingState.NOBODY_CAME: actions.nobody_came,
    MeetingState.CALLED_OFF: actions.call_off,
}


def address_of(meeting: Meeting) -> str:
    """The address of one meeting: a random key."""
    return reverse("meetings:detail", args=[meeting.pk])


@roles(*HANDS)
@require_safe
def list(request: HttpRequest) -> HttpResponse:
    """Meetings ahead and to be written up; those that are over, the last first."""
    user = who(request)
    over = Paginator(queries.past_meetings(user), A_PAGE).get_page(request.GET.get("page"))
    context = {"open": queries.open_meetings(user), "page": over}
    return render(request, "meetings/list.html", context)


@roles(*HANDS)
def fix(request: HttpRequest, code: str) -> HttpResponse:
    """Fix a meeting: a new one, or the one that was proposed or moved."""
    user, person = who(request), person_in_sight(request.user, code)
    waiting = queries.waiting_to_be_fixed(person)
    form = FixForm(typed(request))

    def act() -> str:
        fixed = actions.fix(person=person, by=user, on=today(), meeting=waiting, **form.agreed)
        return address_of(fixed)

    return answer(request, "meetings/fix.html", form, act, person=person, meeting=waiting)


def _shown(request: HttpRequest, meeting: Meeting, **more: Any) -> dict[str, Any]:
    pressed = queries.presses(meeting, today())
    return {
        "meeting": meeting,
        "person": meeting.person,
        "presses": [to for to, against in pressed.items() if not against],
        "against": [code for against in pressed.values() for code in against],
        "may_see_place": access.may_see_place(who(request), meeting, today()),
        "missing": missing_before_form(meeting.explained, meeting.told_back),
        "it_counts": queries.counts(meeting),
        **more,
    }


@roles(*HANDS)
def detail(request: HttpRequest, key: UUID) -> HttpResponse:
    """One meeting, and the presses that move it on."""
    user, meeting = who(request), access.meeting(request.user, key)
    form = PressForm(typed(request))

    def act() -> str:
        to = MeetingState(form.cleaned_data["to"])
        PRESSED[to](meeting=meeting, by=user, at=now())
        if to is MeetingState.HELD:
            return reverse("meetings:write_up", args=[meeting.pk])
        if to is MeetingState.MOVED:
            return reverse("meetings:fix", args=[meeting.person.code])
        return address_of(meeting)

    return answer(request, "meetings/detail.html", form, act, **_shown(request, meeting))


@roles(*HANDS)
@require_POST
def place(request: HttpRequest, key: UUID) -> HttpResponse:
    """Where it is, opened for one look; the log keeps who looked and when."""
    meeting = access.meeting(request.user, key)
    opened = access.show_place(who(request), meeting, today())
    context = {"meeting": opened, "person": opened.person}
    return render(request, "meetings/place.html", context)


@roles(*HANDS)
def write_up(request: HttpRequest, key: UUID) -> HttpResponse:
    """Twelve ticks, four told back, who was there."""
    user, meeting = who(request), access.meeting(request.user, key)
    form = WriteUpForm(typed(request))

    def act() -> str:
        actions.write_up(meeting=meeting, by=user, at=now(), **form.written)
        return address_of(meeting)

    context = {"meeting": meeting, "person": meeting.person}
    return answer(request, "meetings/write_up.html", form, act, **context)


@roles(*HANDS)
@require_safe
def trips(request: HttpRequest) -> HttpResponse:
    """The artist's stays, the last first."""
    return render(request, "meetings/trips.html", {"trips": queries.trips(), "on": today()})


@roles(*HANDS)
def new_trip(request: HttpRequest) -> HttpResponse:
    """Open a trip."""
    user, form = who(request), TripForm(typed(request))

    def act() -> str:
        actions.open_trip(by=user, **form.opened)
        return reverse("meetings:trips")

    return answer(request, "meetings/new_trip.html", form, act)


@roles(*HANDS)
def helpers(request: HttpRequest) -> HttpResponse:
    """Those who interpret or witness, by initials."""
    user, form = who(request), HelperForm(typed(request))

    def act() -> str:
        actions.add_helper(by=user, **form.helper_given)
        return reverse("meetings:helpers")

    return answer(request, "meetings/helpers.html", form, act, helpers=queries.helpers())
