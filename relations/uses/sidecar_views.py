"""Pages of the metadata that go with a cleared selection: what they say, and the file of them."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from relations.privacy.access import roles
from relations.privacy.answering import who
from relations.privacy.home import today
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import packing, queries, standstill


@roles(Role.ARTIST)
@require_safe
def sidecars(request: HttpRequest, code: str) -> HttpResponse:
    """Which pictures of a plan are handed on with which metadata, and which are left out."""
    plan = queries.plan_or_404(code)
    context = {"plan": plan, "packing": packing.packing(plan, today())}
    return render(request, "uses/sidecars.html", context)


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def sidecars_zip(request: HttpRequest, code: str) -> HttpResponse:
    """All of them in one file; the access log keeps who took it and whose names are in it."""
    plan = queries.plan_or_404(code)
    if not standstill.may_be_used_anew():
        context = {"plan": plan, "packing": packing.packing(plan, today())}
        return render(request, "uses/sidecars.html", context, status=422)
    content = packing.hand_out(plan, who(request), today())
    response = HttpResponse(content, content_type="application/zip")
    response["Content-Disposition"] = 'attachment; filename="metadata.zip"'
    return response
