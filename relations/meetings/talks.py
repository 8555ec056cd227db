"""Reads about interviews and recordings, for the artist alone: what is kept, what is due."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum
from uuid import UUID

from django.db.models import Q, QuerySet
from django.shortcuts import get_object_or_404
from django.utils import timezone

from relations.people.models import Participant

from .models import Interview, Recording

# A recording leaves the phone within a day (job.md row 15).
ON_A_PHONE = timedelta(hours=24)


class Due(StrEnum):
    """What is to be done about a talk or a recording."""

    ON_A_PHONE = "on_a_phone"
    DESTROY = "destroy"
    HOW_ARE_YOU = "how_are_you"


@dataclass(frozen=True)
class Waiting:
    """One thing that is due, and since which day or until which."""

    why: Due
    on: date
    is_late: bool
    recording: Recording | None = None
    interview: Interview | None = None


def interview(key: UUID) -> Interview:
    """One interview. Http404 where absent."""
    return get_object_or_404(Interview.objects.select_related("person"), pk=key)


def recording(key: UUID) -> Recording:
    """One recording. Http404 where absent."""
    return get_object_or_404(Recording.objects.select_related("interview__person"), pk=key)


def of_person(person: Participant) -> QuerySet[Interview]:
    """The interviews of a person, the last first, with their recordings."""
    return person.interviews.prefetch_related("recordings").order_by("-held_on")


def kept() -> QuerySet[Recording]:
    """The recordings that are not destroyed, the first to go first."""
    rows = Recording.objects.filter(destroyed_on=None).select_related("interview__person")
    return rows.order_by("destroy_on", "code")


def next_code() -> str:
    """A code for the next recording: R-1, R-2 …, one that nobody has."""
    taken = set(Recording.objects.values_list("code", flat=True))
    return next(code for n in range(1, len(taken) + 2) if (code := f"R-{n}") not in taken)


def waiting(on: date, at: datetime) -> list[Waiting]:
    """What is due on a day, the most pressing first: phones, then people, then last days."""
    recordings = list(kept())
    asked = Q(how_are_you_due_on__isnull=False, how_are_you_on=None)
    talks = Interview.objects.filter(asked).select_related("person")
    return [
        *(
            Waiting(
                Due.ON_A_PHONE, timezone.localdate(one.made_at), at - one.made_at > ON_A_PHONE, one
            )
            for one in recordings
            if one.made_at is not None and one.off_the_phone_on is None
        ),
        *(
            Waiting(Due.HOW_ARE_YOU, due, due < on, interview=one)
            for one in talks.order_by("how_are_you_due_on", "person__code")
            if (due := one.how_are_you_due_on) is not None
        ),
        *(
            Waiting(Due.DESTROY, one.destroy_on, one.destroy_on < on, one)
            for one in recordings
            if one.destroy_on <= on
        ),
    ]
