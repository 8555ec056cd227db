"""Pages on the telephone numbers of somebody: noted, parted, shown for one look, by which clock."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from relations.privacy.access import HANDS, roles
from relations.privacy.answering import again, answer, typed, who
from relations.privacy.home import now, today

from . import access, actions
from .phone_forms import PhoneForm, SplitForm, ZoneForm
from .views import detail_of


@roles(*HANDS)
def phone(request: HttpRequest, code: str) -> HttpResponse:
    """One more number, as typed and as it is dialled; what it leaves open is asked."""
    user, person = who(request), access.person(request.user, code)
    form = PhoneForm(typed(request))
    if form.is_valid() and (asked := form.to_be_asked(person.code)):
        return again(request, "people/split.html", asked, person=person)

    def act() -> str:
        actions.add_line(person=person, by=user, at=now(), **form.line)
        return detail_of(person)

    return answer(request, "people/phone.html", form, act, person=person)


@roles(*HANDS)
@require_POST
def split(request: HttpRequest, code: str) -> HttpResponse:
    """Several numbers that came in one line, looked at and kept together."""
    user, person = who(request), access.person(request.user, code)
    form = SplitForm(request.POST, code=person.code)

    def act() -> str:
        for line in form.lines:
            actions.add_line(person=person, by=user, at=now(), **line)
        return detail_of(person)

    return answer(request, "people/split.html", form, act, person=person)


@roles(*HANDS)
@require_POST
def show_number(request: HttpRequest, code: str, key: UUID) -> HttpResponse:
    """One number, opened for one look; the log keeps who looked and when."""
    line = access.line(request.user, code, key)
    number = access.show_number(who(request), line)
    context = {"person": line.person, "line": line, "number": number}
    return render(request, "people/show_number.html", context)


@roles(*HANDS)
@require_POST
def end_line(request: HttpRequest, code: str, key: UUID) -> HttpResponse:
    """This number does not reach them any more."""
    line = access.line(request.user, code, key)
    actions.end_line(line=line, on=today(), by=who(request))
    return redirect(detail_of(line.person))


@roles(*HANDS)
def zone(request: HttpRequest, code: str, key: UUID) -> HttpResponse:
    """By which clock somebody lives where this line reaches them."""
    user, line = who(request), access.line(request.user, code, key)
    form = ZoneForm(typed(request), number=line.number, initial={"zone": line.zone})

    def act() -> str:
        actions.set_zone(line=line, by=user, **form.typed_in("zone"))
        return detail_of(line.person)

    return answer(request, "people/zone.html", form, act, person=line.person)
