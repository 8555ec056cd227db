"""Pages of the slips of prints: found by their code, and printed."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from relations.privacy.access import HANDS, roles
from relations.privacy.answering import again, typed, who
from relations.privacy.log import note
from relations.privacy.models import User

from . import ordered
from . import slips as paper
from .slip_forms import FindForm, SlipForm
from .views import page_of


@roles(*HANDS)
def find(request: HttpRequest) -> HttpResponse:
    """From the code of a slip, typed or photographed, to its print; two slips are compared."""
    user = who(request)
    form = FindForm(typed(request), request.FILES or None, user=user)
    if not form.is_valid():
        return again(request, "prints/find.html", form)
    row = form.row
    note(user, "read", "prints.print", row.person.log_key)
    if not form.is_pair:
        return redirect(page_of(row))
    context = {"form": FindForm(user=user), "row": row, "way": page_of(row)}
    return render(request, "prints/find.html", context)


def _chosen(request: HttpRequest, user: User) -> list[str]:
    """The codes of the prints that the page before asked slips for: one, or those of an order."""
    if code := request.GET.get("order"):
        lines = ordered.lines(user, ordered.order_or_404(user, code))
        return [line.print.code for line in ordered.need_slips(lines)]
    return [request.GET.get("print", "")]


@roles(*HANDS)
def slips(request: HttpRequest) -> HttpResponse:
    """Choose prints and get their slips as a PDF; it is kept nowhere."""
    user = who(request)
    rows = list(paper.waiting(user))
    form = SlipForm(typed(request), rows=rows, chosen=_chosen(request, user))
    if not form.is_valid():
        return again(request, "prints/slips.html", form, rows=rows)
    note(user, "printed", paper.KIND, None)
    response = HttpResponse(paper.pdf(**form.said), content_type="application/pdf")
    response["Content-Disposition"] = 'inline; filename="slips.pdf"'
    return response
