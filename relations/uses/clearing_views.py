"""Pages of clearance sheets for the artist: made, seen, given a word or a link, printed, ended."""

from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.consent.views import as_pdf
from relations.privacy.access import roles
from relations.privacy.answering import Sent, answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.log import note
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import clearing, clearing_pages, queries, venue
from .clearing_forms import LinkForm, PressForm, SheetForm
from .models import ClearanceSheet

A_PAGE = 50


def page_of(sheet: ClearanceSheet) -> str:
    """The address of a sheet for the artist."""
    return reverse("uses:clearance", args=[sheet.number])


@roles(Role.ARTIST)
@require_safe
def sheets(request: HttpRequest) -> HttpResponse:
    """Every clearance sheet, newest first, with how it stands."""
    page = Paginator(clearing.sheets(), A_PAGE).get_page(request.GET.get("page"))
    context = {"page": page, "listed": clearing_pages.listed(page, today())}
    return render(request, "uses/sheets.html", context)


@roles(Role.ARTIST)
@sure_within(SURE, sent_only=True)
def new_sheet(request: HttpRequest, code: str) -> HttpResponse:
    """Put what is cleared on a sheet; it takes the place of the plan's newest one."""
    user, plan = who(request), queries.plan_or_404(code)
    found = clearing_pages.candidates(plan, today())
    form = SheetForm(typed(request), candidates=found, initial={"language": settings.LANGUAGE_CODE})

    def act() -> str:
        said = form.typed_in("pictures", "language")
        sheet = clearing.make_sheet(plan=plan, written=form.written, by=user, at=now(), **said)
        return page_of(sheet)

    return answer(
        request,
        "uses/new_sheet.html",
        form,
        act,
        plan=plan,
        candidates=found,
        replaces=clearing.newest(plan),
    )


def _shown(sheet: ClearanceSheet, form: LinkForm | None = None) -> dict[str, Any]:
    return {
        "sheet": sheet,
        "plan": sheet.plan,
        "seen": clearing.look(sheet, today()),
        "link": clearing_pages.link_of(sheet, today()),
        "link_form": form or _link_form(sheet),
        # The presses beside that form: no second element of the page bears its ids.
        "press": PressForm(path="", auto_id=False),
    }


def _link_form(sheet: ClearanceSheet, sent: QueryDict | None = None) -> LinkForm:
    path = reverse("uses:link", args=[sheet.number])
    return LinkForm(sent, path=path, initial={"ends_on": sheet.valid_until})


@roles(Role.ARTIST)
@require_safe
def clearance(request: HttpRequest, number: int) -> HttpResponse:
    """One sheet: how it stands, what is on it, its link."""
    context = _shown(clearing.sheet_or_404(number))
    context["form"] = context["link_form"]
    return render(request, "uses/clearance.html", context)


def _pressed(
    request: HttpRequest, sheet: ClearanceSheet, form: Sent, act: Callable[[], object]
) -> HttpResponse:
    """Act once, and back to the sheet; a refusal stands on its page."""

    def press() -> str:
        act()
        return page_of(sheet)

    link_form = form if isinstance(form, LinkForm) else None
    return answer(request, "uses/clearance.html", form, press, **_shown(sheet, link_form))


@roles(Role.ARTIST)
@sure_within(SURE, sent_only=True)
@require_POST
def link(request: HttpRequest, number: int) -> HttpResponse:
    """A new link and its phrase, which are shown this once; a press that comes twice shows none."""
    user, sheet = who(request), clearing.sheet_or_404(number)
    form = _link_form(sheet, request.POST)
    made: list[venue.Link] = []

    def act() -> None:
        said = form.typed_in("ends_on")
        made.append(venue.make_link(sheet=sheet, by=user, at=now(), **said))

    pressed = _pressed(request, sheet, form, act)
    if not made:
        return pressed
    address = request.build_absolute_uri(venue.address_of(made[0]))
    context = {"sheet": sheet, "address": address, "phrase": made[0].phrase}
    return render(request, "uses/link.html", context)


@roles(Role.ARTIST)
@require_POST
def word(request: HttpRequest, number: int, picture: str) -> HttpResponse:
    """The artist's word: this picture need not wait any more."""
    user, sheet = who(request), clearing.sheet_or_404(number)
    form = PressForm(request.POST, path=request.path)

    def act() -> None:
        clearing.give_word(sheet=sheet, picture=picture, by=user, on=today())

    return _pressed(request, sheet, form, act)


@roles(Role.ARTIST)
@require_POST
def end_sheet(request: HttpRequest, number: int) -> HttpResponse:
    """End a sheet and its link."""
    user, sheet = who(request), clearing.sheet_or_404(number)
    form = PressForm(request.POST, path=request.path)
    return _pressed(
        request, sheet, form, lambda: clearing.end_sheet(sheet=sheet, by=user, at=now())
    )


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def clearance_pdf(request: HttpRequest, number: int) -> HttpResponse:
    """An open sheet on paper; one that is not open leads back to its page."""
    sheet = clearing.sheet_or_404(number)
    seen = clearing.look(sheet, today())
    if not seen.is_open:
        return redirect(page_of(sheet))
    note(who(request), "printed", clearing.KIND, sheet.pk)
    return as_pdf(clearing_pages.paper(seen), f"sheet-{sheet.number}")
