"""The deposit list for an archive, on the page and on paper."""

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from relations.consent.views import as_pdf
from relations.documents.one_language import lay_out_in
from relations.privacy.access import roles
from relations.privacy.home import today
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import deposited
from .deposit_forms import DepositForm
from .deposited import Deposit


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def deposit(request: HttpRequest) -> HttpResponse:
    """What an archive may be given, by picture, with the day on which each opens."""
    form = DepositForm(request.GET if "countries" in request.GET else None)
    if form.is_bound and not form.is_valid():
        return render(request, "rights/deposit.html", {"form": form}, status=422)
    said = form.cleaned_data["countries"] if form.is_bound else None
    context = {"form": form, "list": deposited.deposit(today(), said)}
    return render(request, "rights/deposit.html", context)


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def deposit_pdf(request: HttpRequest) -> HttpResponse:
    """The same on paper; a country that is none is asked for on the page."""
    form = DepositForm({"countries": request.GET.get("countries", "")})
    if not form.is_valid():
        return render(request, "rights/deposit.html", {"form": form}, status=422)
    return as_pdf(_paper(deposited.deposit(today(), form.cleaned_data["countries"])), "deposit")


def _paper(found: Deposit) -> bytes:
    """The list as a tagged PDF in the language of the screen: codes, levels and days."""
    context = {"list": found, "project": settings.RELATIONS_PROJECT}
    made = lay_out_in(
        "rights/paper/deposit.html",
        context,
        style="rights/paper/handing.css",
        title=found.on.isoformat(),
    )
    return made.content
