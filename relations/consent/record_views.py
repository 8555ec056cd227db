"""Pages of what a form proves: its record for others, the sitter's receipt, the copies kept."""

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from relations.privacy.access import roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import access, archive, evidence
from .export import MEDIA_TYPE
from .forms import KeepForm
from .views import as_pdf


def _as_file(content: bytes, name: str) -> HttpResponse:
    """A record to be kept or sent; its name says no more than the serial."""
    response = HttpResponse(content, content_type=MEDIA_TYPE)
    response["Content-Disposition"] = f'attachment; filename="{name}.jsonld"'
    return response


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def record(request: HttpRequest, serial: str) -> HttpResponse:
    """The record of one form as it is today, in words that other registers read."""
    paper = access.proof(who(request), serial, "record")
    return _as_file(evidence.as_file(paper, on=today()), serial)


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def receipt(request: HttpRequest, serial: str) -> HttpResponse:
    """The same for the sitter's own hand, with a number of its own."""
    paper = access.proof(who(request), serial, "receipt")
    return _as_file(evidence.as_file(paper, on=today(), is_receipt=True), f"{serial}-receipt")


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def kept(request: HttpRequest, serial: str, number: int) -> HttpResponse:
    """One copy that is kept for decades, as it was made."""
    found = access.kept_copy(who(request), serial, number)
    return as_pdf(archive.content(found), f"{serial}-{number}")


@roles(Role.ARTIST)
def keep(request: HttpRequest) -> HttpResponse:
    """Which forms stand without a copy for the archive, and one press that makes them."""
    user = who(request)
    form = KeepForm(typed(request), user=user)

    def act() -> str:
        archive.lay_out_some(by=user, at=now())
        return reverse("consent:keep")

    waiting = [paper.sheet.serial for paper in archive.waiting()]
    return answer(request, "consent/keep.html", form, act, waiting=waiting)
