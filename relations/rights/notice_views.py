"""The notice of what is kept about somebody, on paper in their language beside the artist's."""

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from relations.consent.access import newest
from relations.consent.actions import print_sheet
from relations.consent.sheet_views import printed
from relations.documents.models import Sheet
from relations.documents.values import PaperKind
from relations.people import access
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import typed, who
from relations.privacy.home import now

from . import leaving
from .notice_forms import NoticeForm


@roles(*HANDS)
def notice(request: HttpRequest, code: str) -> HttpResponse:
    """What is kept by kind, why, how long, who sees it, and what they may ask; no value of it."""
    user, person = who(request), access.person(request.user, code)
    wordings = newest(user)
    form = NoticeForm(typed(request), user=user, wordings=wordings)

    def make() -> tuple[Sheet, bytes]:
        first, second = form.pair
        values = {
            "kinds": [(f"kind_{kind}", f"long_{kind}") for kind in leaving.kinds(person)],
            "answerable": settings.RELATIONS_PROJECT if form.cleaned_data["names_project"] else "",
        }
        return print_sheet(
            kind=PaperKind.NOTICE,
            first=first,
            second=second,
            values=values,
            by=user,
            at=now(),
            of=[person],
        )

    return printed(request, "rights/notice.html", form, make, person=person, wordings=wordings)
