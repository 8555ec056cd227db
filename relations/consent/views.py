"""Pages of papers as they are printed, brought in and filed."""

from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from relations.privacy.access import EVERYONE, HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now
from relations.privacy.models import Role
from relations.privacy.refused import Refused

from . import access, actions, archive
from .forms import FileForm, PrintForm
from .reading_forms import FromBeforeForm
from .states import State

A_PAGE = 50
# The parts of the list of forms, in the order in which they ask for somebody's hand.
PARTS: dict[str, tuple[str, ...]] = {
    "read": (State.SCANNED, State.READ_ONCE, State.DOUBTFUL),
    "way": tuple(state for state in access.ON_ITS_WAY if state != State.SCANNED),
    "standing": (State.STANDING, State.WITHDRAWN_IN_PART),
    "aside": (
        *(State.REPLACED, State.WITHDRAWN, State.ENDED, State.KEPT_AS_PROOF),
        *(State.SPOILT, State.DESTROYED, State.WRITTEN_OFF),
    ),
}


def page_of(serial: str) -> str:
    """The address of one form."""
    return reverse("consent:detail", args=[serial])


def as_pdf(content: bytes, name: str) -> HttpResponse:
    """A PDF to be looked at or printed; its name says no more than the serial."""
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return response


@roles(*HANDS)
@require_safe
def list(request: HttpRequest) -> HttpResponse:
    """The forms a user may see, in four parts, newest serial first."""
    user = who(request)
    found = access.forms(user)
    counts = {part: found.filter(state__in=states).count() for part, states in PARTS.items()}
    asked = request.GET.get("part", "")
    part = asked if asked in PARTS else next((p for p in PARTS if counts[p]), "read")
    rows = found.filter(state__in=PARTS[part]).order_by("-state_on", "-sheet__serial")
    page = Paginator(rows, A_PAGE).get_page(request.GET.get("page"))
    due = archive.waiting().count() if user.is_artist else 0
    context = {"page": page, "part": part, "counts": counts, "copies_due": due}
    context["query"] = f"part={part}"
    return render(request, "consent/list.html", context)


@roles(*HANDS)
def print(request: HttpRequest) -> HttpResponse:
    """Print one form under a serial of its own; refused while a wording is unread."""
    user = who(request)
    newest = access.newest(user)
    form = PrintForm(typed(request), user=user, wordings=newest)

    def act() -> str:
        first, second = form.pair
        person = form.cleaned_data["person"]
        made, _content = actions.print_form(
            first=first,
            second=second,
            person=person,
            by=user,
            at=now(),
            kind=form.cleaned_data["kind"],
            has_heading=form.cleaned_data["has_heading"],
        )
        return page_of(made.sheet.serial)

    return answer(request, "consent/print.html", form, act, wordings=newest)


@roles(*EVERYONE)
@require_safe
def proof(request: HttpRequest, first: str, second: str) -> HttpResponse:
    """Two languages side by side, marked DRAFT, to be read and never signed."""
    newest = {wording.language: wording for wording in access.newest(who(request))}
    if first not in newest or second not in newest:
        raise Http404
    try:
        content = actions.print_proof(first=newest[first], second=newest[second])
    except Refused as refused:
        raise Http404 from refused
    return as_pdf(content, f"proof-{first}-{second}")


@roles(Role.ARTIST)
def from_before(request: HttpRequest) -> HttpResponse:
    """A paper from before the site, with every box on it and, if it is here, its scan."""
    user = who(request)
    form = FromBeforeForm(typed(request), request.FILES or None, user=user)

    def act() -> str:
        said = form.cleaned_data
        brought = actions.bring_in(
            serial=said["serial"],
            person=said["person"],
            given_on=said["given_on"],
            language=said["language"],
            way=said["way"],
            sittings=said["of_sittings"],
            answers=form.answers,
            by=user,
            at=now(),
            scan=said["scan"].read() if said["scan"] else None,
            wording_was_read=said["wording_was_read"],
        )
        return page_of(brought.sheet.serial)

    return answer(request, "consent/from_before.html", form, act)


@roles(*HANDS)
def file(request: HttpRequest) -> HttpResponse:
    """File a scan under the serial typed from the paper."""
    user = who(request)
    form = FileForm(
        typed(request),
        request.FILES or None,
        user=user,
        initial={"serial": request.GET.get("serial", "")},
    )

    def act() -> str:
        said = form.cleaned_data
        scan = actions.file(
            serial=said["serial"],
            content=said["scan"].read(),
            person=said["person"],
            by=user,
            at=now(),
        )
        return page_of(scan.sheet.serial)

    return answer(request, "consent/file.html", form, act)
