"""Last words: whom to speak to before which day, in which order and why; for the artist."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from relations.meetings.calendar import MEDIA_TYPE
from relations.meetings.calendar import write as calendar_file
from relations.privacy.access import roles
from relations.privacy.home import now, today
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import words_due


@roles(Role.ARTIST)
@require_safe
def last_words(request: HttpRequest) -> HttpResponse:
    """Every talk that something planned waits for, worked out from the days of the plans."""
    return render(request, "uses/last_words.html", {"due": words_due.due(today()), "on": today()})


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def last_words_calendar(request: HttpRequest) -> HttpResponse:
    """The same days for a calendar: codes only, since a calendar is shared and synchronised."""
    found = words_due.entries(words_due.due(today()), _("Last word"))
    answer = HttpResponse(calendar_file(found, at=now()), content_type=MEDIA_TYPE)
    answer.headers["Content-Disposition"] = 'attachment; filename="last-words.ics"'
    return answer
