"""Pages about people: who they are to us, word that came through, holds, never-ring marks."""

from typing import Any
from uuid import UUID

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.privacy.access import EVERYONE, HANDS, open_first, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role, User
from relations.privacy.refused import Refused
from relations.privacy.sureness import SURE, sure_within

from . import access, actions, queries
from .forms import (
    CommunityForm,
    FilterForm,
    FindForm,
    MendForm,
    OutsideForm,
    RangUsForm,
)
from .hold_forms import (
    HoldByCodeForm,
    HoldForm,
    LiftByCodeForm,
    LiftForm,
    NeverRingForm,
    UndoForm,
)
from .models import Participant, Why
from .told_forms import NewForm, VouchForm

A_PAGE = 50


def detail_of(person: Participant) -> str:
    """The address of what people know of somebody."""
    return reverse("people:detail", args=[person.code])


@roles(*HANDS)
@sure_within(SURE, by_code=True)
def list(request: HttpRequest) -> HttpResponse:
    """The artist's people, and the search in them; the assistant's people in sight today."""
    user = who(request)
    if not user.is_artist:
        return render(request, "people/in_sight.html", {"seen": queries.seen_today(user, today())})
    shown = FilterForm(request.GET or None)
    find = FindForm(typed(request))
    found = find.found() if find.is_valid() else None
    people = queries.filtered(access.people(user), **shown.chosen())
    page = Paginator(people, A_PAGE).get_page(request.GET.get("page"))
    context = {"shown": shown, "find": find, "found": found, "page": page, "query": shown.query()}
    status = 422 if find.is_bound and found is None else 200
    return render(request, "people/list.html", context, status=status)


@roles(*HANDS)
def new(request: HttpRequest) -> HttpResponse:
    """Word of somebody came through."""
    user = who(request)
    form = NewForm(typed(request), user=user)

    def act() -> str:
        if known := form.known:
            actions.hear_again(person=known, by=user, **form.source_of)
            return detail_of(known)
        person = actions.hear(**form.heard, by=user)
        actions.put_in_sight(person=person, user=user, day=today(), why=Why.NEW)
        return reverse("people:vouch", args=[person.code])

    return answer(request, "people/new.html", form, act)


@roles(*HANDS)
def vouch(request: HttpRequest, code: str) -> HttpResponse:
    """What was asked before the name was said; the artist's yes opens the way to a ring."""
    user, person = who(request), access.person(request.user, code)
    told = queries.told_or_404(person)
    form = VouchForm(typed(request), initial=queries.answers(told))

    def act() -> str:
        actions.vouch(introduction=told, on=today(), by=user, **form.typed_in("asked_first",
                      "may_say_who", "has_power"))  # fmt: skip
        return detail_of(person)

    perhaps = queries.perhaps(person, user)
    return answer(request, "people/vouch.html", form, act, person=person, told=told,
                  perhaps=perhaps)  # fmt: skip


@roles(*HANDS)
@require_safe
def detail(request: HttpRequest, code: str) -> HttpResponse:
    """What people know of somebody; the whole page is in the room of today."""
    person = access.person(request.user, code)
    return render(request, "people/detail.html", _known(who(request), person))


def _known(user: User, person: Participant) -> dict[str, Any]:
    return {
        "person": person,
        "lines": queries.lines(person),
        "hold": queries.open_hold(person),
        "told": queries.first_told(person),
        "heard": queries.heard(person),
        "slip": queries.can_be_undone(person, now()),
        "shares_with": queries.shares_with(person) if user.is_artist else [],
        "perhaps": queries.perhaps(person, user),
    }


@roles(*HANDS)
def mend(request: HttpRequest, code: str) -> HttpResponse:
    """A wrong entry put right; the old one stays readable."""
    user, person = who(request), access.person(request.user, code)
    form = MendForm(typed(request), person=person)

    def act() -> str:
        if form.changes:
            actions.mend(row=person, changes=form.changes, person=person, by=user, at=now())
        return detail_of(person)

    return answer(request, "people/mend.html", form, act, person=person)


@roles(*HANDS)
def rang_us(request: HttpRequest) -> HttpResponse:
    """Somebody rings or writes to us; the answer is the same whoever they are."""
    user, form = who(request), RangUsForm(typed(request))

    def act() -> str:
        actions.rang_us(typed=form.cleaned_data["typed"], by=user, at=now())
        return reverse("people:heard")

    return answer(request, "people/rang_us.html", form, act)


@roles(*EVERYONE)
@open_first
@require_safe
def heard(request: HttpRequest) -> HttpResponse:
    """The same answer to whatever was said."""
    return render(request, "people/heard.html")


@roles(*HANDS)
@open_first
def hold(request: HttpRequest, code: str) -> HttpResponse:
    """Nothing of this person moves until somebody has looked."""
    user, person = who(request), access.person(request.user, code)
    form = HoldForm(typed(request))

    def act() -> str:
        actions.hold(person=person, by=user, at=now(), **form.typed_in("next_look_on"))
        return detail_of(person)

    return answer(request, "people/hold.html", form, act, person=person)


@roles(*EVERYONE)
@open_first
def hold_by_code(request: HttpRequest) -> HttpResponse:
    """A hold by whoever was told a code, also by those who see no people."""
    user, form = who(request), HoldByCodeForm(typed(request))

    def act() -> str:
        if person := form.anybody():
            actions.hold(person=person, by=user, at=now(), **form.typed_in("next_look_on"))
        return reverse("people:heard")

    return answer(request, "people/hold_by_code.html", form, act)


@roles(Role.ARTIST)
def lift(request: HttpRequest, code: str) -> HttpResponse:
    """Lift the hold on a person, with a sentence."""
    user, person = who(request), access.person(request.user, code)
    laid, form = queries.hold_or_404(person), LiftForm(typed(request))

    def act() -> str:
        actions.lift(hold=laid, by=user, at=now(), **form.typed_in("sentence"))
        return detail_of(person)

    return answer(request, "people/lift.html", form, act, person=person, hold=laid)


@roles(Role.ARTIST, Role.KEEPER)
def lift_by_code(request: HttpRequest) -> HttpResponse:
    """Lift a hold by a typed code: the keeper sees no people."""
    user, form = who(request), LiftByCodeForm(typed(request))

    def act() -> str:
        if (person := form.anybody()) and (laid := queries.open_hold(person)):
            actions.lift(hold=laid, by=user, at=now(), **form.typed_in("sentence"))
        return reverse("people:heard")

    return answer(request, "people/lift_by_code.html", form, act)


@roles(*HANDS)
@open_first
def never_ring(request: HttpRequest, code: str) -> HttpResponse:
    """The second of two presses: every number of this person is marked for ever."""
    user, person = who(request), access.person(request.user, code)
    form = NeverRingForm(typed(request))

    def act() -> str:
        actions.never_ring(person=person, by=user, at=now())
        return detail_of(person)

    return answer(request, "people/never_ring.html", form, act, person=person)


@roles(Role.ARTIST, Role.KEEPER)
def undo_never_ring(request: HttpRequest) -> HttpResponse:
    """Take a slip back within 24 hours, by a typed code."""
    user, form = who(request), UndoForm(typed(request))

    def act() -> str:
        person = form.anybody()
        mark = person and queries.can_be_undone(person, now())
        if not mark:
            raise Refused("day_is_over")
        actions.undo_never_ring(mark=mark, by=user, at=now())
        return reverse("people:heard")

    return answer(request, "people/undo_never_ring.html", form, act)


@roles(Role.ARTIST)
@require_POST
def may_vouch(request: HttpRequest, code: str) -> HttpResponse:
    """Tick, or take off, that somebody may vouch for others."""
    person = access.person(request.user, code)
    actions.let_vouch(person=person, may_vouch="yes" in request.POST, by=who(request))
    return redirect(detail_of(person))


@roles(Role.ARTIST)
@require_POST
def settle_rang_us(request: HttpRequest, key: UUID) -> HttpResponse:
    """The artist has looked into who rang; what was typed is emptied."""
    actions.settle_rang_us(heard=queries.rang_or_404(key), on=today(), by=who(request))
    return redirect("/")


@roles(Role.ARTIST)
@require_POST
def settle_shared(request: HttpRequest, key: UUID) -> HttpResponse:
    """The whole of a shared number may never be rung."""
    actions.settle_shared(mark=queries.mark_or_404(key), by=who(request))
    return redirect("/")


@roles(Role.ARTIST)
def communities(request: HttpRequest) -> HttpResponse:
    """Groups under neutral names."""
    user, form = who(request), CommunityForm(typed(request))

    def act() -> str:
        actions.add_community(by=user, **form.typed_in("key", "name", "is_raised"))
        return reverse("people:communities")

    rows = queries.communities()
    return answer(request, "people/communities.html", form, act, communities=rows)


@roles(Role.ARTIST)
def outside(request: HttpRequest) -> HttpResponse:
    """Somebody outside who passes names on."""
    user, form = who(request), OutsideForm(typed(request))

    def act() -> str:
        actions.accept_outside(by=user, **form.typed_in("code", "label", "accepted_on"))
        return reverse("people:outside")

    return answer(request, "people/outside.html", form, act, outsiders=queries.outsiders())
