"""Pages of wordings, and of papers as they are printed, brought in and filed."""

from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from relations.privacy.access import EVERYONE, HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now
from relations.privacy.models import Role
from relations.privacy.refused import Refused
from relations.privacy.sureness import SURE, sure_within

from . import access, actions, pages
from .forms import FileForm, PrintForm, WordingForm, WriteForm
from .models import Wording
from .reading_forms import FromBeforeForm
from .states import State

WRITERS = (Role.ARTIST, Role.WORDING_READER)
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


def wording_of(wording: Wording) -> str:
    """The address of one wording."""
    return reverse("consent:wording", args=[wording.language, wording.version])


def as_pdf(content: bytes, name: str) -> HttpResponse:
    """A PDF to be looked at or printed; its name says no more than the serial."""
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return response


@roles(*HANDS)
@require_safe
def list(request: HttpRequest) -> HttpResponse:
    """The forms a user may see, in four parts, newest serial first."""
    found = access.forms(who(request))
    counts = {part: found.filter(state__in=states).count() for part, states in PARTS.items()}
    asked = request.GET.get("part", "")
    part = asked if asked in PARTS else next((p for p in PARTS if counts[p]), "read")
    rows = found.filter(state__in=PARTS[part]).order_by("-state_on", "-sheet__serial")
    page = Paginator(rows, A_PAGE).get_page(request.GET.get("page"))
    context = {"page": page, "part": part, "counts": counts, "query": f"part={part}"}
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
            first=first, second=second, person=person, by=user, at=now()
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


@roles(*EVERYONE)
@require_safe
def wordings(request: HttpRequest) -> HttpResponse:
    """Every language's wordings: their state, and by whom they were read."""
    user = who(request)
    found = access.wordings(user)
    writes = [one.language for one in found if access.may_write(user, one.language)]
    return render(request, "consent/wordings.html", {"wordings": found, "writes": writes})


@roles(*EVERYONE)
@sure_within(SURE, sent_only=True)
def wording(request: HttpRequest, language: str, version: int) -> HttpResponse:
    """One wording beside another, clause by clause; its second reader approves here."""
    user = who(request)
    shown = access.wording(user, language, version)
    beside = pages.beside(user, shown)
    form = WordingForm(typed(request), user=user)

    def act() -> str:
        verb, _colon, key = form.cleaned_data["act"].partition(":")
        if verb == "freeze":
            actions.freeze(wording=shown, by=user, at=now())
        else:
            done = actions.approve if verb == "approve" else actions.send_back
            done(clause=access.clause(shown, key), by=user, on=timezone.localtime(now()).date())
        return wording_of(shown) + (f"#{key}" if key else "")

    context = pages.side_by_side(user, shown, beside)
    return answer(request, "consent/wording.html", form, act, **context)


@roles(*WRITERS)
def write(request: HttpRequest, language: str) -> HttpResponse:
    """The clauses of a language, to be written; a frozen wording is followed by a new version."""
    user = who(request)
    model = pages.model_for(user, language)
    form = WriteForm(typed(request), user=user, model=model, language=language)

    def act() -> str:
        return wording_of(
            actions.write_wording(language=language, texts=form.texts, labels=form.labels, by=user)
        )

    return answer(request, "consent/write.html", form, act, model=model, language=language)
