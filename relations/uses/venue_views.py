"""The pages of a venue, without an account: a phrase opens one sheet, which is read and kept to."""

from contextlib import suppress

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import translation
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from relations.consent.views import as_pdf
from relations.privacy.answering import again, typed
from relations.privacy.home import now, today
from relations.privacy.log import note
from relations.privacy.refused import Refused
from relations.privacy.views import FORM_METHODS

from . import clearing, clearing_pages, venue
from .clearing_forms import PhraseForm


@sensitive_post_parameters("phrase")
@require_http_methods(FORM_METHODS)
def open_sheet(request: HttpRequest) -> HttpResponse:
    """A link asks for its phrase; it looks the same whatever lies behind it, or nothing.

    The random part is no part of the path: Django writes the path of a refusal into the server's
    log, and never what stands after it.
    """
    form, token = PhraseForm(typed(request)), request.GET.get(venue.LINK, "")
    if form.is_valid():
        if venue.come_in(request, token, form.cleaned_data["phrase"]):
            return redirect("uses:sheet")
        form.refuse()
    return again(request, "uses/open_sheet.html", form)


@require_safe
def sheet(request: HttpRequest) -> HttpResponse:
    """The one sheet of this session as it stands now, in the language of the venue."""
    seen = clearing.look(venue.sheet_of(request), today())
    with translation.override(seen.sheet.language):
        response = render(
            request, "uses/sheet.html", {"sheet": seen.sheet, "plan": seen.sheet.plan, "seen": seen}
        )
    response.headers["Content-Language"] = seen.sheet.language
    return response


@require_POST
def confirm_sheet(request: HttpRequest) -> HttpResponse:
    """Read, and will be kept to; once. A sheet that is out of date meanwhile says so instead."""
    found = venue.sheet_of(request)
    with suppress(Refused):
        clearing.confirm(sheet=found, at=now())
    return redirect("uses:sheet")


@require_POST
def confirm_down(request: HttpRequest) -> HttpResponse:
    """What must come down is down: said once, and seen by the artist."""
    venue.confirm_down(sheet=venue.sheet_of(request), at=now())
    return redirect("uses:sheet")


@require_safe
def sheet_pdf(request: HttpRequest) -> HttpResponse:
    """The sheet on paper, while it is open."""
    found = venue.sheet_of(request)
    seen = clearing.look(found, today())
    if not seen.is_open:
        return redirect("uses:sheet")
    note(None, "printed", clearing.KIND, found.pk)
    return as_pdf(clearing_pages.paper(seen), f"sheet-{found.number}")
