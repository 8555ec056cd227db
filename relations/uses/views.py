"""Pages of planned uses, their weighing, and the register of what is shown; for the artist."""

from collections import Counter

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.meetings.calendar import MEDIA_TYPE
from relations.meetings.calendar import write as calendar_file
from relations.privacy.access import roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import actions, coming_down, planned, queries, selection
from .forms import NamesForm, PicturesForm, PlanForm, ShownForm, UsesForm, WordsForm
from .models import PlannedUse
from .rules import INK

A_PAGE = 50
# Uses that carry the caution on what is once seen everywhere.
ON_SCREENS = frozenset({"web", "social_media"})


def page_of(plan: PlannedUse) -> str:
    """The address of the weighing of a plan."""
    return reverse("uses:weigh", args=[plan.code])


@roles(Role.ARTIST)
@require_safe
def plans(request: HttpRequest) -> HttpResponse:
    """The planned uses, soonest first."""
    page = Paginator(queries.plans(), A_PAGE).get_page(request.GET.get("page"))
    return render(request, "uses/plans.html", {"page": page, "on": today()})


@roles(Role.ARTIST)
def new_plan(request: HttpRequest) -> HttpResponse:
    """Somebody wants pictures for a wall, a book, a page."""
    user, form = who(request), PlanForm(typed(request))

    def act() -> str:
        plan = actions.plan(by=user, **form.typed_in(*form.KEPT))
        return reverse("uses:pictures", args=[plan.code])

    return answer(request, "uses/new_plan.html", form, act)


@roles(Role.ARTIST)
@sure_within(SURE, sent_only=True)
def weigh(request: HttpRequest, code: str) -> HttpResponse:
    """May these be shown? The whole selection as it weighs now; a press keeps the answers."""
    user, plan = who(request), queries.plan_or_404(code)
    form = UsesForm(typed(request))

    def act() -> str:
        actions.weigh(plan=plan, by=user, at=now())
        return page_of(plan)

    return answer(
        request,
        "uses/weigh.html",
        form,
        act,
        plan=plan,
        sheet=selection.sheet(plan, today()),
        at=now(),
        is_ink=plan.use in INK,
        is_on_screens=plan.use in ON_SCREENS,
    )


@roles(Role.ARTIST)
def pictures(request: HttpRequest, code: str) -> HttpResponse:
    """Which pictures are asked for; what loses its tick is left out."""
    user, plan = who(request), queries.plan_or_404(code)
    asked = queries.asked_codes(plan)
    form = PicturesForm(typed(request), initial={"pictures": asked})

    def act() -> str:
        chosen = form.cleaned_data["pictures"]
        gone = queries.pictures().filter(code__in=asked).exclude(pk__in=[one.pk for one in chosen])
        actions.ask_for(plan=plan, pictures=chosen, by=user)
        actions.leave_out(plan=plan, pictures=gone, by=user, on=today())
        return reverse("uses:names", args=[plan.code])

    return answer(request, "uses/pictures.html", form, act, plan=plan)


@roles(Role.ARTIST)
def names(request: HttpRequest, code: str) -> HttpResponse:
    """How each sitter is named in a plan."""
    user, plan = who(request), queries.plan_or_404(code)
    form = NamesForm(typed(request), sitters=queries.sitters_of(plan))

    def act() -> str:
        for person, name_form in form.named():
            actions.name_shown(plan=plan, person=person, name_form=name_form, by=user)
        return page_of(plan)

    return answer(request, "uses/names.html", form, act, plan=plan)


@roles(Role.ARTIST)
def words(request: HttpRequest, code: str, picture: str) -> HttpResponse:
    """With which words one picture is shown, and how it names those in it."""
    user, plan = who(request), queries.plan_or_404(code)
    asked = planned.asked_or_404(plan, picture)
    form = WordsForm(typed(request), asked=asked, sitters=planned.sitters_in(asked))

    def act() -> str:
        actions.word(asked=asked, by=user, **form.worded())
        return page_of(plan)

    return answer(request, "uses/words.html", form, act, plan=plan, asked=asked)


@roles(Role.ARTIST)
@require_safe
def people(request: HttpRequest, code: str) -> HttpResponse:
    """Everything that bears on a plan, person by person."""
    plan = queries.plan_or_404(code)
    sheet = selection.sheet(plan, today())
    return render(request, "uses/people.html", {"plan": plan, "sheet": sheet})


@roles(Role.ARTIST)
@sure_within(SURE)
@require_safe
def calendar(request: HttpRequest, code: str) -> HttpResponse:
    """The days to look again as a file for a calendar; codes only."""
    plan = queries.plan_or_404(code)
    content = calendar_file(selection.days(plan, today()), at=now())
    response = HttpResponse(content, content_type=MEDIA_TYPE)
    response.headers["Cache-Control"] = "private, no-store"
    response.headers["Content-Disposition"] = 'attachment; filename="look-again.ics"'
    return response


@roles(Role.ARTIST)
@require_POST
def drop(request: HttpRequest, code: str) -> HttpResponse:
    """Give a plan up."""
    actions.drop(plan=queries.plan_or_404(code), by=who(request), on=today())
    return redirect("uses:plans")


@roles(Role.ARTIST)
@require_safe
def shown(request: HttpRequest) -> HttpResponse:
    """The use register: what is or was shown, where, and whom to ring."""
    page = Paginator(queries.shown(), A_PAGE).get_page(request.GET.get("page"))
    waits = Counter(line.shown_id for line in coming_down.waiting(queries.undo_lines(who(request))))
    context = {"page": page, "on": today(), "waits": dict(waits)}
    return render(request, "uses/shown.html", context)


@roles(Role.ARTIST)
def new_shown(request: HttpRequest) -> HttpResponse:
    """Something goes out: keep where, until when, and who holds the files."""
    user, form = who(request), ShownForm(typed(request))

    def act() -> str:
        actions.show(by=user, **form.typed_in(*form.KEPT))
        return reverse("uses:shown")

    return answer(request, "uses/new_shown.html", form, act)
