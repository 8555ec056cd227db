"""Pages of a handover: begun, counted, signed by both, on paper, and whom the artist tells."""

from typing import Any
from uuid import UUID

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST, require_safe

from relations.consent.views import as_pdf
from relations.documents.one_language import lay_out_in
from relations.people import access, newcomers
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, calmly, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role, User
from relations.privacy.sureness import SURE, sure_within

from . import handing_on
from .handing_forms import BeginHandoverForm, PathForm, SignForm, SpokenForm, UnwantedForm
from .models import Handover

CARERS = (Role.ARTIST, Role.KEEPER)


def _page(user: User) -> dict[str, Any]:
    """The open handover with what is counted, and those of before."""
    row = handing_on.current()
    return {
        "row": row,
        "things": handing_on.open_things(row.gone) if row else None,
        "earlier": [one for one in handing_on.handovers() if not one.is_open],
        "to_tell": len(handing_on.tasks()) if user.is_artist else None,
    }


@roles(*CARERS)
@sure_within(SURE)
@require_safe
def handover(request: HttpRequest) -> HttpResponse:
    """One assistant hands on to another: what is open, and the two counts."""
    shown = _page(who(request))
    row = shown["row"]
    form = SignForm(request=request, handover=row) if row else BeginHandoverForm()
    return render(request, "rights/handover.html", {"form": form, **shown})


@roles(*CARERS)
@sure_within(SURE)
@require_POST
def begin_handover(request: HttpRequest) -> HttpResponse:
    """Who goes and who comes; nothing ends by it."""
    user, form = who(request), BeginHandoverForm(request.POST)

    def act() -> str:
        handing_on.begin(on=today(), by=user, **form.typed_in("gone", "come"))
        return reverse("rights:handover")

    return answer(request, "rights/handover.html", form, act, **{**_page(user), "row": None})


@roles(*CARERS)
@sensitive_post_parameters("gone_password", "come_password")
@sure_within(SURE)
@require_POST
@calmly
def sign_handover(request: HttpRequest, key: UUID) -> HttpResponse:
    """Both sign: the old access ends with this press."""
    user, row = who(request), handing_on.handover_or_404(key)
    form = SignForm(request.POST, request=request, handover=row)

    def act() -> str:
        said = form.typed_in("why_differs")
        handing_on.sign(handover=row, by_hand=form.by_hand, by=user, at=now(), **said)
        return reverse("rights:handover")

    return answer(request, "rights/handover.html", form, act, **{**_page(user), "row": row})


@roles(*CARERS)
@sure_within(SURE)
@require_POST
def call_off_handover(request: HttpRequest, key: UUID) -> HttpResponse:
    """It does not come about."""
    user, row = who(request), handing_on.handover_or_404(key)
    form = PathForm(request.POST, path=request.path)

    def act() -> str:
        handing_on.call_off(handover=row, on=today(), by=user)
        return reverse("rights:handover")

    return answer(request, "rights/handover.html", form, act, **{**_page(user), "row": None})


@roles(*CARERS)
@sure_within(SURE)
@require_safe
def handover_pdf(request: HttpRequest, key: UUID) -> HttpResponse:
    """The counted list on paper: to tick off by hand, or as it was signed."""
    return as_pdf(_paper(handing_on.handover_or_404(key)), "handover")


def _paper(row: Handover) -> bytes:
    """The list as a tagged PDF in the language of the screen: codes and counts, no sitter."""
    things = None if row.signed_by_both_at else handing_on.open_things(row.gone)
    counts = things.counts if things else row.counts
    context = {
        "row": row,
        "things": things,
        "counts": counts,
        "by_hand": handing_on.by_hand_of(row, counts),
        "at": now(),
        "project": settings.RELATIONS_PROJECT,
    }
    made = lay_out_in(
        "rights/paper/handover.html",
        context,
        style="rights/paper/handing.css",
        title=row.on.isoformat(),
    )
    return made.content


def _telling() -> dict[str, Any]:
    return {
        "tasks": handing_on.tasks(),
        "spoken": handing_on.spoken(),
        "unwanted": newcomers.standing(),
        # One field for many forms on a page: without an id.
        "day": SpokenForm(path="", auto_id=False),
    }


@roles(Role.ARTIST)
@require_safe
def introduce(request: HttpRequest) -> HttpResponse:
    """Whom the artist tells of the newcomer, and who wants the artist alone."""
    return render(request, "rights/introduce.html", {"form": PathForm(), **_telling()})


@roles(Role.ARTIST)
@require_POST
def introduced(request: HttpRequest, key: UUID) -> HttpResponse:
    """A sitter was told: the newcomer may come, or may not."""
    user, task = who(request), handing_on.task_or_404(key)
    form = SpokenForm(request.POST, path=request.path)

    def act() -> str:
        handing_on.introduce(task=task, by=user, **form.typed_in("said", "on"))
        return reverse("rights:introduce")

    return answer(request, "rights/introduce.html", form, act, **_telling())


@roles(*HANDS)
def unwanted(request: HttpRequest, code: str) -> HttpResponse:
    """Somebody does not want this assistant: from now on the artist rings."""
    user, person = who(request), access.person(request.user, code)
    form = UnwantedForm(typed(request), user=user)

    def act() -> str:
        newcomers.refuse(person=person, user=form.cleaned_data["user"], on=today(), by=user)
        return reverse("today:person", args=[code]) if user.is_artist else reverse("today:today")

    rows = newcomers.standing().filter(person=person) if user.is_artist else None
    return answer(request, "rights/unwanted.html", form, act, person=person, rows=rows)


@roles(Role.ARTIST)
@require_POST
def lift_unwanted(request: HttpRequest, key: UUID) -> HttpResponse:
    """They may come after all."""
    user, row = who(request), newcomers.unwanted_or_404(key)
    form = PathForm(request.POST, path=request.path)

    def act() -> str:
        newcomers.lift(row=row, on=today(), by=user)
        return reverse("rights:introduce")

    return answer(request, "rights/introduce.html", form, act, **_telling())
