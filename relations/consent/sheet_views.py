"""Pages on which a paper beside the form is printed: the press itself answers with the PDF."""

from collections.abc import Callable
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from relations.documents.models import Sheet
from relations.documents.values import PaperKind
from relations.privacy.access import EVERYONE, HANDS, roles
from relations.privacy.answering import Sent, answer, typed, who
from relations.privacy.home import now
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import access, actions, team
from .models import Wording
from .sheet_forms import SheetForm
from .views import as_pdf
from .words import PAPERS


def printed(
    request: HttpRequest,
    template: str,
    form: Sent,
    make: Callable[[], tuple[Sheet, bytes]],
    **context: Any,
) -> HttpResponse:
    """Print once and answer with the PDF; a press that is sent twice leads back to the page.

    What was printed is not kept but for its digest, so that no copy of it is to be found here.
    """
    made: list[tuple[Sheet, bytes]] = []

    def act() -> str:
        made.append(make())
        return request.path

    response = answer(request, template, form, act, **context)
    if not made:
        return response
    sheet, content = made[0]
    return as_pdf(content, sheet.serial)


def _of_form(user: User, serial: str, newest: list[Wording]) -> dict[str, str]:
    """The languages and the number of a form that the user came from, where they may see it."""
    form = access.forms(user).filter(sheet__serial=serial).first()
    if form is None or form.first_wording is None or form.second_wording is None:
        return {}
    keys = {wording.language: str(wording.pk) for wording in newest}
    return {
        "serial": serial,
        "first": keys[form.first_wording.language],
        "second": keys[form.second_wording.language],
    }


@roles(*HANDS)
def papers(request: HttpRequest) -> HttpResponse:
    """The papers that go with a form: explanation, stop cards, take-back slip."""
    user = who(request)
    newest = access.newest(user)
    initial = _of_form(user, request.GET.get("serial", ""), newest)
    form = SheetForm(typed(request), user=user, wordings=newest, initial=initial)

    def make() -> tuple[Sheet, bytes]:
        return actions.print_sheet(**form.chosen, by=user, at=now())

    return printed(request, "consent/papers.html", form, make, wordings=newest)


@roles(*EVERYONE)
@require_safe
def paper_proof(request: HttpRequest, kind: str, first: str, second: str) -> HttpResponse:
    """One paper in two languages, marked DRAFT, to be read; it has no number."""
    newest = {wording.language: wording for wording in access.newest(who(request))}
    if kind not in {*PAPERS, *team.KINDS} or first not in newest or second not in newest:
        raise Http404
    values = team.blank(PaperKind(kind)) if kind in team.KINDS else {}
    try:
        content = actions.prove_sheet(
            kind=PaperKind(kind), first=newest[first], second=newest[second], values=values
        )
    except Refused as refused:
        raise Http404 from refused
    return as_pdf(content, f"proof-{kind}-{first}-{second}")
