"""Pages of pictures: the contact sheet, one picture, its words, its light copy and its hold."""

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from relations.privacy.access import HANDS, open_first, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now
from relations.privacy.models import Role

from . import access, actions, queries
from .forms import CaptionForm, HoldForm, LiftForm, LightCopyForm, MendPictureForm
from .models import Picture

A_PAGE = 60


def address_of(picture: Picture) -> str:
    """The address of one picture."""
    return reverse("pictures:detail", args=[picture.code])


@roles(*HANDS)
@require_safe
def list(request: HttpRequest) -> HttpResponse:
    """The contact sheet: light copies for the artist, codes alone for the assistant."""
    rows = queries.with_holds(access.pictures(request.user))
    page = Paginator(rows, A_PAGE).get_page(request.GET.get("page"))
    context = {"page": page, "shows": who(request).is_artist}
    return render(request, "pictures/list.html", context)


@roles(*HANDS)
@require_safe
def detail(request: HttpRequest, code: str) -> HttpResponse:
    """One picture: everyone in it, its words in every version, whether it may move."""
    user, picture = who(request), access.picture(request.user, code)
    context = {
        "picture": picture,
        "in_frame": queries.in_frame(user, picture),
        "captions": queries.captions(picture),
        "hold": queries.open_hold(picture),
        "crops": picture.crops.all(),
        "strangers": queries.strangers(picture),
        "shows": bool(picture.light_copy) and (user.is_artist or "show" in request.GET),
    }
    return render(request, "pictures/detail.html", context)


@roles(*HANDS)
@require_safe
def light_copy(request: HttpRequest, code: str) -> HttpResponse:
    """The light copy itself; nothing keeps it on the way."""
    picture = access.picture(request.user, code)
    with queries.light_copy(picture) as file:
        response = HttpResponse(file.read(), content_type=picture.light_copy_type)
    response.headers["Cache-Control"] = "private, no-store"
    response.headers["Content-Disposition"] = "inline"
    return response


@roles(*HANDS)
def copy(request: HttpRequest, code: str) -> HttpResponse:
    """Give a picture its light copy, or another one."""
    user, picture = who(request), access.picture(request.user, code)
    form = LightCopyForm(typed(request), request.FILES or None)

    def act() -> str:
        actions.set_light_copy(picture=picture, light_copy=form.copy(), by=user, at=now())
        return address_of(picture)

    return answer(request, "pictures/copy.html", form, act, picture=picture)


@roles(*HANDS)
def mend(request: HttpRequest, code: str) -> HttpResponse:
    """What is noted of a picture, put right; what stood there stays, sealed."""
    user, picture = who(request), access.picture(request.user, code)
    appearances = [one.appearance for one in queries.in_frame(user, picture)]
    form = MendPictureForm(typed(request), picture=picture, appearances=appearances)

    def act() -> str:
        actions.mend(
            picture=picture,
            changes=form.changes,
            recognisable=form.judged,
            means_another=form.means,
            by=user,
            at=now(),
        )
        return address_of(picture)

    return answer(request, "pictures/mend.html", form, act, picture=picture)


@roles(Role.ARTIST)
def caption(request: HttpRequest, code: str) -> HttpResponse:
    """Write the words under a picture: always a new version."""
    user, picture = who(request), access.picture(request.user, code)
    form = CaptionForm(typed(request), picture=picture)

    def act() -> str:
        actions.write_caption(picture=picture, by=user, at=now(), **form.written)
        return address_of(picture)

    rows = queries.captions(picture)
    return answer(request, "pictures/caption.html", form, act, picture=picture, captions=rows)


@roles(*HANDS)
@open_first
def hold(request: HttpRequest, code: str) -> HttpResponse:
    """Nothing happens with this picture until somebody has looked."""
    user, picture = who(request), access.picture(request.user, code)
    form = HoldForm(typed(request))

    def act() -> str:
        actions.hold(picture=picture, by=user, at=now())
        return address_of(picture)

    return answer(request, "pictures/hold.html", form, act, picture=picture)


@roles(Role.ARTIST)
def lift(request: HttpRequest, code: str) -> HttpResponse:
    """Lift the hold on a picture, with a sentence."""
    user, picture = who(request), access.picture(request.user, code)
    laid, form = queries.hold_or_404(picture), LiftForm(typed(request))

    def act() -> str:
        actions.lift(hold=laid, by=user, at=now(), **form.typed_in("sentence"))
        return address_of(picture)

    return answer(request, "pictures/lift.html", form, act, picture=picture, hold=laid)
