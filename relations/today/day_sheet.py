"""The day on paper: what is waiting, under line numbers, to be filled in with a pen."""

from collections.abc import Iterable, Iterator
from datetime import datetime, time, timedelta
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import Count, Q, QuerySet
from django.http import Http404
from django.utils import timezone

from relations.consent import team
from relations.consent.models import Wording
from relations.consent.sheets import print_sheet
from relations.consent.team import DayEntry
from relations.documents.models import Sheet
from relations.documents.values import PaperKind
from relations.languages.finding import Names, Signed, without
from relations.languages.said import comma
from relations.meetings.due import Due, rings_due
from relations.meetings.models import DayLine, Meeting
from relations.meetings.values import MeetingState, Work
from relations.people import access
from relations.people.models import Name, Participant
from relations.prints.models import Print
from relations.privacy.models import User

from . import queries

# What can still happen to a meeting on its day; one that was held is written up on its own sheet.
AHEAD = (MeetingState.FIXED, MeetingState.CONFIRMED)
# Nobody types a sheet in after this many days; it stands no longer on the working page.
OPEN_DAYS = 30

# An entry as it is printed, whose it is, and the key of the row that it is about.
Planned = tuple[DayEntry, Participant | None, UUID | None]


def planned(user: User, at: datetime) -> list[Planned]:
    """The lines of a day in order of need, for those whom the user may see; codes, never names."""
    lines: list[Planned] = [(entry, None, None) for entry in team.stop_lines()]
    for number, (work, person, about, says) in enumerate(_work(user, at), start=len(lines) + 1):
        lines.append((DayEntry(work, number, person.code, **says), person, about))
    return lines


Waiting = tuple[Work, Participant, UUID, dict[str, Any]]


def _work(user: User, at: datetime) -> Iterator[Waiting]:
    people = access.people(user)
    for meeting in queries.meetings(people, at).filter(state__in=AHEAD):
        yield Work.MEETING, meeting.person, meeting.pk, {"more": _when(meeting)}
    for out in queries.doorsteps(people):
        yield Work.DOOR, out.person, out.pk, {"more": out.picture.code if out.picture else ""}
    known = _known_names()
    for due in rings_due(user, at):
        yield Work.RING, due.person, due.call.pk, _how(due, known)


def _when(meeting: Meeting) -> str:
    return f"{timezone.localtime(meeting.at):%Y-%m-%d %H:%M}" if meeting.at else ""


def _known_names() -> Names[Signed]:
    """Every name of anybody, whoever may see them, with the code that stands for it on paper."""
    called = ((one.code, one.call_name) for one in Participant.objects.all())
    others = ((one.person.code, one.text) for one in Name.objects.select_related("person"))
    return Names((pair, pair[1]) for pair in (*called, *others))


def _how(due: Due, known: Names[Signed]) -> dict[str, Any]:
    """How to ring: the hours left on that day in the person's zone, and what may be said."""
    person, hours = due.person, due.windows
    return {
        "more": comma().join(f"{_hour(one.start)}–{_hour(one.end)}" for one in hours),
        "languages": " ".join(person.language_list),
        "may_say": without(person.may_say, known),
        "what_to_do": without(person.instruction, known),
        "is_shared": due.is_shared,
        "text_only": person.text_only,
    }


def _hour(hour: time) -> str:
    return f"{hour:%H:%M}"


@transaction.atomic
def print_day(*, first: Wording, second: Wording, by: User, at: datetime) -> tuple[Sheet, bytes]:
    """Print the day of a user in two languages under a serial, and keep what each line is about.

    Refused as `consent.sheets.print_sheet` refuses. Source: job.md row 48 and "Paper twins".
    """
    lines = planned(by, at)
    values = team.of_day(
        day=f"{timezone.localdate(at):%Y-%m-%d}", entries=[entry for entry, *_ in lines]
    )
    sheet, content = print_sheet(
        kind=PaperKind.DAY,
        first=first,
        second=second,
        values=values,
        by=by,
        at=at,
        of=_people(lines),
    )
    DayLine.objects.bulk_create(
        DayLine(sheet=sheet, number=entry.number, work=entry.work, person=person, about=about)
        for entry, person, about in lines
    )
    return sheet, content


def _people(lines: Iterable[Planned]) -> list[Participant]:
    """Whom a sheet is about, each once: its scanned pages go with them."""
    return list({person.pk: person for _entry, person, _about in lines if person}.values())


def sheets(user: User) -> QuerySet[Sheet]:
    """The day sheets that a user may type in: their own, and for the artist all."""
    found = Sheet.objects.filter(kind=PaperKind.DAY, printed_at__isnull=False)
    return found if user.is_artist else found.filter(printed_by=user)


def sheet_or_404(user: User, serial: str) -> Sheet:
    """One day sheet that a user may type in; absent and not theirs are the same Http404."""
    found = sheets(user).filter(serial=serial).first()
    if found is None:
        raise Http404
    return found


def still_open(user: User, at: datetime) -> QuerySet[Sheet]:
    """Sheets of the last month with lines about somebody that are not typed in; the oldest first.

    Each has `lines_left`. Lines for a stop stay empty on most days and are not waited for.
    """
    since = at - timedelta(days=OPEN_DAYS)
    left = Q(day_lines__typed_at=None) & ~Q(day_lines__work=Work.STOP)
    found = sheets(user).filter(printed_at__gte=since)
    found = found.annotate(lines_left=Count("day_lines", filter=left)).filter(lines_left__gt=0)
    return found.order_by("printed_at", "serial")


def lines(user: User, sheet: Sheet) -> list[DayLine]:
    """The lines of a sheet that this user may type in, by number: of those in sight on its day."""
    on = timezone.localdate(sheet.printed_at)
    seen = Q(person=None) | Q(person__in=access.people(user, on))
    found = sheet.day_lines.filter(seen).select_related("person", "typed_by")
    return list(found.order_by("number"))


def prints(lines: Iterable[DayLine]) -> dict[UUID, Print]:
    """The prints that lines for a doorstep are about, by key."""
    keys = [line.about for line in lines if line.work == Work.DOOR]
    return Print.objects.select_related("picture").in_bulk(keys)
