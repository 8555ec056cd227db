"""What may be shown to others: the share drawing, and a map for one trusted person."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.privacy.access import roles
from relations.privacy.answering import again, answer, who
from relations.privacy.home import now
from relations.privacy.log import note
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import actions, shared
from . import working_map as maps
from .models import Shared
from .said import from_json
from .share_forms import MapForm, ShareForm
from .sharing import Sharing

# What each kind of file is sent as.
TYPES = {"pdf": "application/pdf", "svg": "image/svg+xml"}
PAGE = "referrals/share.html"


def _page(whole: shared.Whole) -> dict[str, Any]:
    """All that the page shows, with both forms fresh."""
    said, last = shared.now_said(whole), shared.last_said()
    return {
        "said": said,
        "is_same": said == last,
        "picture": shared.on_page(said),
        "sentences": shared.sentences(said),
        "lines": shared.table(said),
        "shapes": shared.shapes(whole),
        "earlier": shared.earlier(),
        "share_form": _share_form(),
        "map_form": _map_form(whole),
    }


def _share_form(sent: QueryDict | None = None) -> ShareForm:
    return ShareForm(sent, path=reverse("referrals:share_drawing"))


def _map_form(whole: shared.Whole, sent: QueryDict | None = None) -> MapForm:
    return MapForm(sent, path=reverse("referrals:working_map"), parts=maps.parts(whole))


def _sent(content: bytes, name: str, ending: str) -> HttpResponse:
    """A file to be saved, under a name that says nothing of anybody."""
    response = HttpResponse(content, content_type=TYPES[ending])
    response["Content-Disposition"] = f'attachment; filename="{name}.{ending}"'
    return response


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def share(request: HttpRequest) -> HttpResponse:
    """The three ways, what left the house before, and what would now; the look is noted."""
    note(who(request), "read", actions.KIND, None)
    return render(request, PAGE, _page(shared.whole()))


@roles(Role.ARTIST)
@sure_within(SURE)
@require_POST
def share_drawing(request: HttpRequest) -> HttpResponse:
    """Make the share drawing, once, and lead to its file."""
    user, form = who(request), _share_form(request.POST)

    def act() -> str:
        made = actions.share(by=user, at=now())
        return reverse("referrals:share_file", args=[made.number, form.cleaned_data["file"]])

    page = {} if form.is_valid() else {**_page(shared.whole()), "share_form": form}
    return answer(request, PAGE, form, act, **page)


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def share_file(request: HttpRequest, number: int, kind: str) -> HttpResponse:
    """A drawing as it was made: it follows from what was said then, and from nothing else."""
    found = get_object_or_404(Shared, number=number, kind=Sharing.DRAWING)
    if kind not in TYPES:
        raise Http404
    said = from_json(found.said)
    content = shared.pdf(said) if kind == "pdf" else shared.svg(said)
    note(who(request), "printed", actions.KIND, found.pk)
    return _sent(content, "introductions", kind)


@roles(Role.ARTIST)
@sure_within(SURE)
@require_POST
def working_map(request: HttpRequest) -> HttpResponse:
    """One line or one group as a PDF, under codes that no other sheet has; kept that it was made.

    A second press makes a second map under other codes, so it is kept twice.
    """
    whole = shared.whole()
    form = _map_form(whole, request.POST)
    if not form.is_valid():
        return again(request, PAGE, form, **{**_page(whole), "map_form": form})
    content = maps.pdf(whole, form.cut, form.of)
    actions.keep_map(
        part=form.cut,
        group=form.of,
        people=len(maps.shown(whole, form.cut, form.of)),
        by=who(request),
        at=now(),
    )
    return _sent(content, "map", "pdf")
