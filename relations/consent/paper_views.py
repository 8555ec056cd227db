"""Pages of one form, known by its serial: where it is, its scan, its readings and answers."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from relations.people.access import person as door
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role, User
from relations.privacy.refused import Refused
from relations.privacy.sureness import SURE, sure_within

from . import access, actions, pages
from .answer_forms import AnswersForm, GuardianForm
from .beside_forms import FirstReadForm, SettleBesideForm
from .forms import MoveForm, SpeakerForm
from .models import Form
from .reading_forms import ReadForm
from .views import as_pdf, page_of


@roles(*HANDS)
@require_safe
def detail(request: HttpRequest, serial: str) -> HttpResponse:
    """One form: where it is, what comes next and, for the artist, what it says."""
    user = who(request)
    paper = access.form(user, serial)
    context = {"paper": paper, **pages.shown(user, paper, today())}
    return render(request, "consent/detail.html", context)


@roles(*HANDS)
@require_safe
def pdf(request: HttpRequest, serial: str) -> HttpResponse:
    """The two sides again, byte for byte as they were printed."""
    paper = access.form(who(request), serial)
    try:
        return as_pdf(actions.reprint(form=paper), serial)
    except Refused as refused:
        context = {"paper": paper, "codes": refused.codes}
        return render(request, "consent/pdf.html", context, status=409)


@roles(*HANDS)
def move(request: HttpRequest, serial: str) -> HttpResponse:
    """Say where a paper is."""
    user = who(request)
    paper = access.form(user, serial)
    more = pages.moves_of_artist(user, paper, today())
    form = MoveForm(typed(request), user=user, paper=paper, more=more)

    def act() -> str:
        said = form.cleaned_data
        actions.move_form(form=paper, to=said["to"], by=user, on=said["on"])
        return page_of(serial)

    return answer(request, "consent/move.html", form, act, paper=paper)


@roles(*HANDS)
@sure_within(SURE)
@require_safe
def scan(request: HttpRequest, serial: str, number: int) -> HttpResponse:
    """One scan, opened for one look; the access log keeps who looked and when."""
    found, content = access.scan(who(request), serial, number)
    response = HttpResponse(content, content_type=found.media_type)
    ending = found.media_type.rpartition("/")[2]
    response["Content-Disposition"] = f'inline; filename="{serial}-{number}.{ending}"'
    return response


@roles(*HANDS)
@sure_within(SURE)
@require_safe
def boxes(request: HttpRequest, serial: str) -> HttpResponse:
    """All tick boxes as they stand on the scans, in one small picture; logged as a scan is."""
    user = who(request)
    seen = access.boxes(user, access.form(user, serial))
    return HttpResponse(seen.picture(), content_type="image/webp")


def _beside(
    request: HttpRequest, user: User, paper: Form, *, is_asked: bool = True
) -> dict[str, Any]:
    """What a form needs to show the boxes of a paper.

    The scans are opened when the page is fresh, and not where nothing is asked.
    """
    is_fresh = typed(request) is None
    return {
        "layout": paper.sheet.layout,
        "picture": reverse("consent:boxes", args=[paper.sheet.serial]),
        "seen": access.boxes(user, paper) if is_fresh and is_asked else None,
    }


def _reading(request: HttpRequest, user: User, paper: Form) -> ReadForm:
    """The first reading stands beside the boxes; the second is made from the whole scan.

    Were both made beside the same small pictures, one that was cut in the wrong place would lead
    both astray, and nothing would differ.
    """
    if not user.is_artist and access.may_open_scan(user, paper):
        beside = _beside(request, user, paper)
        return FirstReadForm(typed(request), user=user, kind=paper.kind, **beside)
    # The artist, who reads second, also says of which sittings it speaks.
    sittings = paper.person.sittings.all() if user.is_artist and paper.person else None
    return ReadForm(typed(request), user=user, sittings=sittings, kind=paper.kind)


@roles(*HANDS)
@sure_within(SURE)
def read(request: HttpRequest, serial: str) -> HttpResponse:
    """Every box of the paper, read by one person without the other's reading."""
    user = who(request)
    paper = access.form(user, serial)
    if not access.may_read(user, paper) or paper.person is None:
        raise Http404
    form = _reading(request, user, paper)

    def act() -> str:
        actions.read(
            form=paper, answers=form.answers, by=user, at=now(), sittings=form.chosen_sittings
        )
        return page_of(serial)

    return answer(request, "consent/read.html", form, act, paper=paper)


@roles(Role.ARTIST)
@sure_within(SURE)
def settle(request: HttpRequest, serial: str) -> HttpResponse:
    """Only the boxes in which the two readings differ."""
    user = who(request)
    paper = access.form(user, serial)
    differing = pages.boxes_that_differ(paper)
    beside = _beside(request, user, paper, is_asked=bool(differing))
    form = SettleBesideForm(typed(request), user=user, boxes=differing, **beside)

    def act() -> str:
        actions.settle(form=paper, answers=form.answers, by=user, at=now())
        return page_of(serial)

    return answer(request, "consent/settle.html", form, act, paper=paper, boxes=differing)


@roles(Role.ARTIST)
def answers(request: HttpRequest, serial: str) -> HttpResponse:
    """What was shown and read aloud beside a form, and what they said."""
    user = who(request)
    paper = access.form(user, serial)
    if paper.person is None:
        raise Http404
    form = AnswersForm(typed(request), user=user, paper=paper, open_=pages.open_answers(paper))

    def act() -> str:
        actions.answer_all(form=paper, on=form.cleaned_data["on"], by=user, **form.said())
        return page_of(serial)

    return answer(request, "consent/answers.html", form, act, paper=paper)


@roles(Role.ARTIST)
def guardian(request: HttpRequest, serial: str) -> HttpResponse:
    """What one holder of authority over a child said."""
    user = who(request)
    paper = access.form(user, serial)
    form = GuardianForm(typed(request), user=user)

    def act() -> str:
        said = form.cleaned_data
        actions.answer_guardian(
            form=paper,
            authority=said["authority"],
            name=said["name"],
            is_yes=said["is_yes"],
            on=said["on"],
            by=user,
        )
        return page_of(serial)

    return answer(request, "consent/guardian.html", form, act, paper=paper)


@roles(Role.ARTIST)
def speaker_says(request: HttpRequest, code: str) -> HttpResponse:
    """What whoever speaks for somebody said of one use."""
    user = who(request)
    person = door(user, code)
    form = SpeakerForm(typed(request), user=user)

    def act() -> str:
        said = form.cleaned_data
        actions.speaker_says(
            person=person, use=said["use"], is_yes=said["is_yes"], on=said["on"], by=user
        )
        return request.path

    return answer(
        request,
        "consent/speaker_says.html",
        form,
        act,
        person=person,
        said=pages.said_by_speaker(person),
        today=timezone.localtime(now()).date(),
    )
