"""Pages of rounds: what goes on one, its order and two sheets, and what came of each door."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.people import access
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import again, answer, who
from relations.privacy.answering import typed as sent
from relations.privacy.home import now, today
from relations.privacy.sureness import SURE, sure_within

from . import actions, queries, round_papers, walking, walks
from .round_forms import QuartersForm, RoundForm, RoundsForm, TypedForm, WhereForm


def _page_of(code: str) -> str:
    return reverse("prints:walk", args=[code])


@roles(*HANDS)
@require_safe
def rounds(request: HttpRequest) -> HttpResponse:
    """The rounds of somebody, the last first."""
    return render(request, "prints/rounds.html", {"rounds": walks.of_user(who(request))})


@roles(*HANDS)
def round(request: HttpRequest) -> HttpResponse:
    """Choose what goes on a round; below, what cannot yet and why."""
    user = who(request)
    found = walks.candidates(user)
    form = RoundForm(sent(request), user=user, ready=[one.print for one in found if not one.lacks])

    def act() -> str:
        return _page_of(walking.plan_round(**form.planned(), at=now()).code)

    waiting = [one for one in found if one.lacks]
    light = walks.daylight(today())
    return answer(request, "prints/round.html", form, act, waiting=waiting, light=light)


@roles(*HANDS)
@require_safe
def walk(request: HttpRequest, round_code: str) -> HttpResponse:
    """One round in its order, by letter, code and quarter; its two sheets, and setting out."""
    context = {**_of_round(request, round_code), "form": RoundsForm()}
    return render(request, "prints/walk.html", context)


def _of_round(request: HttpRequest, code: str) -> dict[str, object]:
    """What the page of a round shows of it."""
    user = who(request)
    row = walks.round_or_404(user, code)
    doors = walks.doors(user, row)
    known = round_papers.names_of()
    for door in doors:
        # The quarter stands beside it: what to do is said without anybody's name.
        door.what_to_do = round_papers.unnamed(door.print.person.instruction, known)  # type: ignore[attr-defined]
    return {
        "row": row,
        "doors": doors,
        "graves": {door.letter for door in doors if door.print.not_at_the_lab},
        "ends_at": walks.ends_at(doors),
        "light": walks.daylight(row.on),
        "left": sum(walks.is_open(door) for door in doors),
    }


@roles(*HANDS)
@require_POST
def set_out(request: HttpRequest, round_code: str) -> HttpResponse:
    """Every print of the round goes out, by one press."""
    user, row = who(request), walks.round_or_404(who(request), round_code)
    form = RoundsForm(request.POST)

    def act() -> str:
        walking.set_out(round=row, by=user, at=now())
        return _page_of(row.code)

    return answer(request, "prints/walk.html", form, act, **_of_round(request, round_code))


@roles(*HANDS)
@require_POST
def call_off(request: HttpRequest, round_code: str) -> HttpResponse:
    """A round that has not set out is given up; its prints may go on another."""
    user, row = who(request), walks.round_or_404(who(request), round_code)
    form = RoundsForm(request.POST)

    def act() -> str:
        walking.call_off(round=row, by=user)
        return reverse("prints:rounds")

    return answer(request, "prints/walk.html", form, act, **_of_round(request, round_code))


@roles(*HANDS)
@sure_within(SURE)
@require_POST
def places(request: HttpRequest, round_code: str) -> HttpResponse:
    """The sheet of places by letter, as the answer to a press; no name on it."""
    user, row = who(request), walks.round_or_404(who(request), round_code)
    content = round_papers.places(row, walks.carried(walks.doors(user, row)), by=user, at=now())
    return _as_pdf(content, "places")


@roles(*HANDS)
@sure_within(SURE)
@require_POST
def names(request: HttpRequest, round_code: str) -> HttpResponse:
    """The sheet of names by letter, as the answer to a press; no place on it."""
    user, row = who(request), walks.round_or_404(who(request), round_code)
    content = round_papers.names(row, walks.carried(walks.doors(user, row)), by=user, at=now())
    return _as_pdf(content, "letters")


def _as_pdf(content: bytes, name: str) -> HttpResponse:
    response = HttpResponse(content, content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return response


@roles(*HANDS)
def typed(request: HttpRequest, round_code: str) -> HttpResponse:
    """After the round one line for each door; each is stored once, whatever is sent again."""
    user, row = who(request), walks.round_or_404(who(request), round_code)
    doors = walks.doors(user, row)
    form = TypedForm(sent(request), round=row, doors=doors)
    if form.is_bound:
        form.full_clean()
        lines, on = form.lines(), form.cleaned_data.get("on", today())
        form.tell(*walking.note_all(lines, on=on, by=user, at=now()))
        if not form.errors:
            return redirect("prints:typed", row.code)
    done = [door for door in walks.doors(user, row) if not walks.is_open(door)]
    return again(request, "prints/typed.html", form, row=row, done=done)


@roles(*HANDS)
def where(request: HttpRequest, person: str, picture: str) -> HttpResponse:
    """Where and when a print is brought, as the sitter wishes."""
    user, row = who(request), queries.print_or_404(who(request), person, picture)
    form = WhereForm(sent(request), print=row)

    def act() -> str:
        actions.agree_way(print=row, by=user, on=today(), **form.said())
        return reverse("prints:way", args=[person, picture])

    return answer(request, "prints/where.html", form, act, row=row, picture=picture)


@roles(*HANDS)
@require_POST
def place(request: HttpRequest, person: str, picture: str) -> HttpResponse:
    """Where a print is brought, opened for one look; the log keeps who looked and when."""
    row = queries.print_or_404(who(request), person, picture)
    access.note_read(who(request), "place", row.person)
    return render(request, "prints/place.html", {"row": row, "picture": picture})


@roles(*HANDS)
def quarters(request: HttpRequest) -> HttpResponse:
    """The minutes between quarters, kept by whoever walks there: no streets, no map."""
    form = QuartersForm(sent(request))

    def act() -> str:
        said = form.typed_in("start", "end", "minutes")
        walking.keep_minutes(**said, by=who(request))
        return reverse("prints:quarters")

    return answer(request, "prints/quarters.html", form, act, **walks.table())
