"""Pages of meetings and of those who help at them."""

from typing import Any
from uuid import UUID

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from relations.people.access import person as person_in_sight
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.sureness import SURE, sure_within

from . import access, actions, known_helpers, light, queries
from .calendar import MEDIA_TYPE
from .calendar import write as calendar_file
from .forms import ChosenForm, FixForm, HelperForm, PressForm, WriteUpForm
from .models import Meeting
from .rules import missing_before_form
from .values import MeetingState
from .words import AS_AGREED

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
    planned = {"with_camera": waiting.with_camera, "trip": waiting.trip} if waiting else None
    form = FixForm(typed(request), initial=planned)

    def act() -> str:
        fixed = actions.fix(person=person, by=user, on=today(), meeting=waiting, **form.agreed)
        return address_of(fixed)

    return answer(request, "meetings/fix.html", form, act, person=person, meeting=waiting)


@roles(*HANDS)
@sure_within(SURE)
@require_safe
def calendar(request: HttpRequest) -> HttpResponse:
    """The meetings ahead as a calendar file: codes only, since a calendar is shared."""
    found = queries.coming(who(request), now(), _("Talk"), _("Sitting"))
    sent = HttpResponse(calendar_file(found, at=now()), content_type=MEDIA_TYPE)
    sent.headers["Content-Disposition"] = 'attachment; filename="meetings.ics"'
    return sent


def _shown(request: HttpRequest, meeting: Meeting, **more: Any) -> dict[str, Any]:
    pressed = queries.presses(meeting, today())
    may_move = not pressed.get(MeetingState.MOVED, ("no_such_move",))
    return {
        "meeting": meeting,
        "person": meeting.person,
        "presses": [to for to, against in pressed.items() if not against],
        "against": [code for against in pressed.values() for code in against],
        "may_see_place": access.may_see_place(who(request), meeting, today()),
        "missing": missing_before_form(meeting.explained, meeting.told_back),
        "it_counts": queries.counts(meeting),
        "as_agreed": may_move and queries.has_fallback(meeting, now()),
        "warnings": known_helpers.helper_warnings(meeting),
        "light": light.of_meeting(meeting),
        **more,
    }


@roles(*HANDS)
def detail(request: HttpRequest, key: UUID) -> HttpResponse:
    """One meeting, and the presses that move it on."""
    user, meeting = who(request), access.meeting(request.user, key)
    form = PressForm(typed(request))

    def act() -> str:
        if form.cleaned_data["to"] == AS_AGREED:
            actions.move_as_agreed(meeting=meeting, by=user, at=now())
            return address_of(meeting)
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

    warnings = known_helpers.helper_warnings(meeting)
    context = {"meeting": meeting, "person": meeting.person, "warnings": warnings}
    return answer(request, "meetings/write_up.html", form, act, **context)


@roles(*HANDS)
def who_helps(request: HttpRequest, key: UUID) -> HttpResponse:
    """Who interprets and who witnesses at a meeting; what speaks against them is said."""
    user, meeting = who(request), access.meeting(request.user, key)
    names = ("interpreter", "witness", "interpreter_ties", "witness_ties")
    initial = {
        name: getattr(meeting, name) for name in (*names, "of_own_group", "own_group_agreed")
    }
    form = ChosenForm(typed(request), initial=initial)

    def act() -> str:
        actions.choose_helpers(meeting=meeting, by=user, **form.chosen)
        return address_of(meeting)

    context = {"meeting": meeting, "person": meeting.person}
    return answer(request, "meetings/who_helps.html", form, act, **context)


@roles(*HANDS)
def helpers(request: HttpRequest) -> HttpResponse:
    """Those who interpret or witness, by initials."""
    user, form = who(request), HelperForm(typed(request))

    def act() -> str:
        actions.add_helper(by=user, **form.helper_given)
        return reverse("meetings:helpers")

    return answer(request, "meetings/helpers.html", form, act, helpers=known_helpers.helpers())
