"""Pages where papers come home: a stack is sent, looked at part by part, and the tray emptied."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.documents.models import Upload
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now
from relations.privacy.sureness import SURE, sure_within

from . import access, coming_home, home_pages
from .home_forms import BringHomeForm, PlaceForm, SetAsideForm, WhoseForm
from .views import page_of


def stack_of(key: UUID) -> str:
    """The address of one upload."""
    return reverse("consent:brought", args=[key])


@roles(*HANDS)
def bring_home(request: HttpRequest) -> HttpResponse:
    """Send a stack of scans or photographs; its first part is done before the page answers."""
    user = who(request)
    form = BringHomeForm(typed(request), request.FILES or None, user=user)
    taken: list[Upload] = []

    def act() -> str:
        made = coming_home.receive(files=form.cleaned_data["scans"], by=user, at=now())
        taken.append(made)
        return stack_of(made.pk)

    answered = answer(request, "consent/bring_home.html", form, act, **home_pages.before(user))
    # The stack is on the disk by now, whatever becomes of its first part.
    for upload in taken:
        coming_home.go_on(upload=upload, seen=coming_home.look_on(upload), by=user, at=now())
    return answered


@roles(*HANDS)
@require_safe
def brought(request: HttpRequest, key: UUID) -> HttpResponse:
    """How far a stack is, what came of it, and what is missing."""
    user = who(request)
    upload = access.upload(user, key)
    return render(request, "consent/brought.html", home_pages.of(user, upload))


@roles(*HANDS)
@require_POST
def go_on(request: HttpRequest, key: UUID) -> HttpResponse:
    """Do the next part of a stack; pressed twice, the next part but one is done as well."""
    user = who(request)
    upload = access.upload(user, key)
    seen = coming_home.look_on(upload)
    coming_home.go_on(upload=upload, seen=seen, by=user, at=now())
    return redirect(stack_of(key))


@roles(*HANDS)
@require_safe
def tray(request: HttpRequest) -> HttpResponse:
    """Every page that waits for a person, by what it waits for."""
    return render(request, "consent/tray.html", home_pages.tray(who(request)))


@roles(*HANDS)
@sure_within(SURE)
@require_safe
def loose_page(request: HttpRequest, key: UUID) -> HttpResponse:
    """One page of the tray, opened for one look; the access log keeps who looked and when."""
    content = access.open_page(who(request), key)
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = 'inline; filename="page.pdf"'
    return response


@roles(*HANDS)
def place(request: HttpRequest, key: UUID) -> HttpResponse:
    """Put a page under the serial that can be read on it."""
    user = who(request)
    page = access.page(user, key)
    initial = {"serial": page.sheet.serial if page.sheet else "", "side": page.side}
    form = PlaceForm(typed(request), user=user, initial=initial)

    def act() -> str:
        said = form.typed_in("serial", "side", "person")
        coming_home.place(page=page, **said, by=user, at=now())
        return reverse("consent:tray")

    return answer(request, "consent/place.html", form, act, page=page)


@roles(*HANDS)
def set_aside(request: HttpRequest, key: UUID) -> HttpResponse:
    """Put a page aside, with a word why; nothing is thrown away."""
    user = who(request)
    page = access.page(user, key)
    form = SetAsideForm(typed(request), user=user, is_sheet=coming_home.is_sheet(page))

    def act() -> str:
        said = form.cleaned_data
        coming_home.set_aside(
            page=page, word=said["word"], person=said.get("person"), by=user, at=now()
        )
        return reverse("consent:tray")

    return answer(request, "consent/set_aside.html", form, act, page=page)


@roles(*HANDS)
@require_POST
def blanks_aside(request: HttpRequest) -> HttpResponse:
    """Put every blank page aside at once."""
    coming_home.set_blanks_aside(by=who(request), at=now())
    return redirect("consent:tray")


@roles(*HANDS)
def whose(request: HttpRequest, serial: str) -> HttpResponse:
    """Whose form this is, of a paper that was printed for nobody."""
    user = who(request)
    pages = access.pages_for_whom(user, serial)
    form = WhoseForm(typed(request), user=user)

    def act() -> str:
        person = form.cleaned_data["person"]
        coming_home.whose(serial=serial, person=person, by=user, at=now())
        return page_of(serial)

    return answer(request, "consent/whose.html", form, act, pages=pages, serial=serial)
