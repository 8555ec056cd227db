"""Pages of sittings: who sat, the film, somebody more, and a picture out of one."""

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from relations.people.access import person as person_in_sight
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import User

from . import access, actions, queries
from .forms import PictureForm
from .models import Sitting
from .sitting_forms import JoinForm, SheetsForm, SitForm
from .values import SheetState
from .views import A_PAGE, address_of

TURNED = {
    SheetState.PROCESSED: actions.process_sheets,
    SheetState.LOST: actions.lose_sheets,
}


def sitting_at(sitting: Sitting) -> str:
    """The address of one sitting."""
    return reverse("pictures:sitting", args=[sitting.code])


@roles(*HANDS)
@require_safe
def sittings(request: HttpRequest) -> HttpResponse:
    """The sittings, the last first."""
    rows = queries.with_counts(access.sittings(request.user))
    page = Paginator(rows, A_PAGE).get_page(request.GET.get("page"))
    return render(request, "pictures/sittings.html", {"page": page})


@roles(*HANDS)
def sit(request: HttpRequest, code: str) -> HttpResponse:
    """A sitting of one person, or of several."""
    user, person = who(request), person_in_sight(request.user, code)
    form = SitForm(typed(request), user=user, person=person)

    def act() -> str:
        return sitting_at(actions.sit(by=user, **form.sat))

    return answer(request, "pictures/sit.html", form, act, person=person)


@roles(*HANDS)
@require_safe
def sitting(request: HttpRequest, code: str) -> HttpResponse:
    """One sitting: sitters, film, pictures."""
    found = access.sitting(request.user, code)
    return render(request, "pictures/sitting.html", _shown(who(request), found))


def _shown(user: User, sitting: Sitting) -> dict[str, object]:
    return {
        "sitting": sitting,
        "sitters": queries.sitters(user, sitting),
        "sheets": queries.sheets(sitting),
        "pictures": queries.pictures_of(sitting),
    }


@roles(*HANDS)
def join(request: HttpRequest, code: str) -> HttpResponse:
    """Somebody more stepped in."""
    user, found = who(request), access.sitting(request.user, code)
    form = JoinForm(typed(request), user=user)

    def act() -> str:
        actions.join(sitting=found, by=user, on=today(), **form.typed_in("person"))
        return sitting_at(found)

    return answer(request, "pictures/join.html", form, act, sitting=found)


@roles(*HANDS)
def sheets(request: HttpRequest, code: str) -> HttpResponse:
    """What became of the film."""
    user, found = who(request), access.sitting(request.user, code)
    form = SheetsForm(typed(request), sitting=found)

    def act() -> str:
        turn = TURNED[SheetState(form.cleaned_data["state"])]
        turn(sitting=found, numbers=form.ticked, by=user, on=today())
        return sitting_at(found)

    return answer(request, "pictures/sheets.html", form, act, sitting=found)


@roles(*HANDS)
def add(request: HttpRequest, code: str) -> HttpResponse:
    """A picture with everyone in the frame, and its light copy."""
    user, found = who(request), access.sitting(request.user, code)
    everybody = [person for person, _ in queries.sitters(user, found)]
    form = PictureForm(typed(request), request.FILES or None, sitting=found, sitters=everybody)

    def act() -> str:
        picture = actions.add_picture(
            sitting=found, by=user, at=now(), in_frame=form.in_frame, **form.noted
        )
        return address_of(picture)

    return answer(request, "pictures/add.html", form, act, sitting=found)
