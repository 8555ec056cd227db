"""The answer to a stop, on paper in the person's language beside the artist's."""

from django.http import HttpRequest, HttpResponse

from relations.consent.access import newest
from relations.consent.actions import print_sheet
from relations.consent.sheet_forms import PaperForm
from relations.consent.sheet_views import printed
from relations.documents.models import Sheet
from relations.documents.values import PaperKind
from relations.people import access
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import typed, who
from relations.privacy.home import now

from . import queries, telling


@roles(*HANDS)
def in_words(request: HttpRequest, code: str) -> HttpResponse:
    """What is done, what is asked of others and what cannot be undone, to be read aloud."""
    user, person = who(request), access.person(request.user, code)
    wordings = newest(user)
    form = PaperForm(typed(request), user=user, wordings=wordings)
    values = {
        "said": telling.taken(queries.taken_back(person)),
        "parts": telling.parts(queries.undo_lines(user, person)),
    }

    def make() -> tuple[Sheet, bytes]:
        first, second = form.pair
        return print_sheet(
            kind=PaperKind.ANSWER,
            first=first,
            second=second,
            values=values,
            by=user,
            at=now(),
            of=[person],
        )

    return printed(
        request, "uses/in_words.html", form, make, person=person, wordings=wordings, **values
    )
