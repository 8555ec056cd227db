"""The door to meetings: they are seen with their person, and their place only near the day."""

from datetime import date, timedelta
from typing import TYPE_CHECKING
from uuid import UUID

from django.db.models import QuerySet
from django.http import Http404
from django.utils import timezone

from relations.people import access
from relations.privacy.models import Role

from .models import Meeting

if TYPE_CHECKING:
    from django.contrib.auth.models import AnonymousUser

    from relations.privacy.models import User

# An assistant opens a place from the day before a meeting to the day after it.
NEAR = timedelta(days=1)


def meetings(user: "User | AnonymousUser", on: date | None = None) -> QuerySet[Meeting]:
    """The meetings of those whom `user` may see on a day (today)."""
    return Meeting.objects.filter(person__in=access.people(user, on))


def meeting(user: "User | AnonymousUser", key: UUID) -> Meeting:
    """One meeting of a person in sight. Http404 where absent or out of sight."""
    found = (
        meetings(user)
        .filter(pk=key)
        .select_related("person", "interpreter", "witness", "trip")
        .first()
    )
    if found is None:
        raise Http404
    return found


def may_see_place(user: "User", meeting: Meeting, on: date) -> bool:
    """Whether the place may be opened: always by the artist, near the day by the assistant."""
    if user.is_one_of(Role.ARTIST):
        return True
    return meeting.at is not None and abs(timezone.localdate(meeting.at) - on) <= NEAR


def show_place(user: "User", meeting: Meeting, on: date) -> Meeting:
    """Open the place of a meeting for one look, and leave a line in the access log.

    Http404 where it is not near enough for this user. Source: job.md 4.
    """
    if not may_see_place(user, meeting, on):
        raise Http404
    access.note_read(user, "place", meeting.person)
    return meeting
