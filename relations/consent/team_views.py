"""Pages that print a sheet for the team: a press prints it under a serial and shows the PDF."""

from collections.abc import Callable, Iterable, Mapping
from uuid import UUID

from django.http import HttpRequest, HttpResponse

from relations.documents.models import Sheet
from relations.documents.values import PaperKind
from relations.meetings.access import meeting as door_to_meeting
from relations.meetings.queries import trip_on
from relations.people.access import person as door
from relations.people.models import Participant
from relations.pictures.queries import next_sitting_code
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import typed, who
from relations.privacy.home import now, today

from . import access, team
from .sheet_views import printed
from .sheets import print_sheet
from .team_forms import SittingSheetForm, TeamSheetForm

Values = Callable[[], Mapping[str, object]]


def answer_sheet(
    request: HttpRequest,
    template: str,
    form: TeamSheetForm,
    kind: PaperKind,
    values: Values,
    of: Callable[[], Iterable[Participant]],
    **context: object,
) -> HttpResponse:
    """Print a sheet once and answer with it; else the form again with what is wrong."""
    user = who(request)

    def make() -> tuple[Sheet, bytes]:
        first, second = form.pair
        return print_sheet(
            kind=kind, first=first, second=second, values=values(), of=of(), by=user, at=now()
        )

    return printed(request, template, form, make, kind=kind, **context)


@roles(*HANDS)
def meeting_sheet(request: HttpRequest, key: UUID) -> HttpResponse:
    """The sheet for a meeting: what is explained and told back, with a pen."""
    user = who(request)
    meeting = door_to_meeting(user, key)
    spoken = meeting.person.language_list
    form = TeamSheetForm(typed(request), user=user, wordings=access.newest(user), theirs=spoken)

    def values() -> Mapping[str, object]:
        initials = meeting.interpreter.initials if meeting.interpreter else ""
        return team.of_meeting(person=meeting.person.code, languages=spoken, interpreter=initials)

    return answer_sheet(
        request,
        "consent/meeting_sheet.html",
        form,
        PaperKind.MEETING,
        values,
        lambda: [meeting.person],
        meeting=meeting,
        person=meeting.person,
    )


@roles(*HANDS)
def sitting_sheet(request: HttpRequest, code: str) -> HttpResponse:
    """The sheet for the next sitting of a person: film, light and who is in the frame."""
    user = who(request)
    person, trip = door(user, code), trip_on(today())
    form = SittingSheetForm(
        typed(request), user=user, wordings=access.newest(user), theirs=person.language_list
    )

    def sitters() -> list[Participant]:
        return list(dict.fromkeys([person, *form.cleaned_data["also"]]))

    def values() -> Mapping[str, object]:
        return team.of_sitting(
            sitting=next_sitting_code(person, trip.code if trip else ""),
            people=[one.code for one in sitters()],
        )

    how = (form, PaperKind.SITTING, values, sitters)
    return answer_sheet(request, "consent/sitting_sheet.html", *how, person=person)


@roles(*HANDS)
def spot_sheet(request: HttpRequest, serial: str) -> HttpResponse:
    """The sheet that says, before anybody leaves, whether a form is complete."""
    user = who(request)
    paper = access.form(user, serial)
    pair = [one.language for one in (paper.first_wording, paper.second_wording) if one]
    form = TeamSheetForm(typed(request), user=user, wordings=access.newest(user), theirs=pair)
    return answer_sheet(
        request,
        "consent/spot_sheet.html",
        form,
        PaperKind.SPOT,
        lambda: team.of_form(serial=serial),
        lambda: [paper.person] if paper.person else [],
        paper=paper,
    )
