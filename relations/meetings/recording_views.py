"""Pages of interviews and recordings; for the artist alone, and never the words of a talk."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from relations.people.access import person as person_in_sight
from relations.privacy.access import roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role

from . import actions, talks
from .recording_forms import (
    HowAreYouForm,
    InterviewForm,
    LastDayForm,
    RecordingForm,
    RecordingPressForm,
)
from .words import Pressed

PRESSED = {
    Pressed.OFF_THE_PHONE: actions.note_off_the_phone,
    Pressed.TRANSCRIBED: actions.note_transcript,
    Pressed.DESTROYED: actions.destroy,
}


@roles(Role.ARTIST)
@require_safe
def recordings(request: HttpRequest) -> HttpResponse:
    """Every recording that is kept, and what is due."""
    waiting = talks.waiting(today(), now())
    return render(request, "meetings/recordings.html", {"kept": talks.kept(), "waiting": waiting})


@roles(Role.ARTIST)
def interviews(request: HttpRequest, code: str) -> HttpResponse:
    """The interviews of a person, and one more."""
    user, person = who(request), person_in_sight(request.user, code)
    form = InterviewForm(typed(request), initial={"held_on": today()})

    def act() -> str:
        held = actions.add_interview(person=person, by=user, **form.held)
        return reverse("meetings:interview", args=[held.pk])

    context = {"person": person, "interviews": talks.of_person(person)}
    return answer(request, "meetings/interviews.html", form, act, **context)


@roles(Role.ARTIST)
def interview(request: HttpRequest, key: UUID) -> HttpResponse:
    """One interview: its recordings, and the words of theirs that were kept from it."""
    user, held = who(request), talks.interview(key)
    hour = timezone.localtime(now())
    initial = {"code": talks.next_code(), "made_on": held.held_on, "made_hour": f"{hour:%H:%M}"}
    form = RecordingForm(typed(request), initial=initial)

    def act() -> str:
        made = actions.add_recording(interview=held, by=user, **form.made)
        return reverse("meetings:recording", args=[made.pk])

    context = {"interview": held, "person": held.person}
    return answer(request, "meetings/interview.html", form, act, **context)


@roles(Role.ARTIST)
def how_are_you(request: HttpRequest, key: UUID) -> HttpResponse:
    """That they were asked how they are after a heavy talk."""
    user, held = who(request), talks.interview(key)
    form = HowAreYouForm(typed(request), initial={"asked_on": today()})

    def act() -> str:
        on = form.cleaned_data["asked_on"]
        actions.note_how_are_you(interview=held, by=user, on=on)
        return reverse("meetings:interview", args=[held.pk])

    context = {"interview": held, "person": held.person}
    return answer(request, "meetings/how_are_you.html", form, act, **context)


@roles(Role.ARTIST)
def recording(request: HttpRequest, key: UUID) -> HttpResponse:
    """One recording, and the presses that move it on."""
    user, kept = who(request), talks.recording(key)
    form = RecordingPressForm(typed(request))

    def act() -> str:
        PRESSED[Pressed(form.cleaned_data["to"])](recording=kept, by=user, on=today())
        return reverse("meetings:recording", args=[kept.pk])

    context = {"recording": kept, "interview": kept.interview, "on": today()}
    return answer(request, "meetings/recording.html", form, act, **context)


@roles(Role.ARTIST)
def last_day(request: HttpRequest, key: UUID) -> HttpResponse:
    """The day they chose for the end of a recording."""
    user, kept = who(request), talks.recording(key)
    form = LastDayForm(typed(request), initial={"destroy_on": kept.destroy_on})

    def act() -> str:
        day = form.cleaned_data["destroy_on"]
        actions.choose_day(recording=kept, destroy_on=day, by=user, on=today())
        return reverse("meetings:recording", args=[kept.pk])

    return answer(request, "meetings/last_day.html", form, act, recording=kept)
