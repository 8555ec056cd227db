"""The page of one use that happened: who holds it, how to reach them, what must come down."""

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from relations.privacy.access import roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role

from . import coming_down, queries, register
from .forms import MendShownForm


@roles(Role.ARTIST)
def use(request: HttpRequest, code: str) -> HttpResponse:
    """One use: mend its end, its copies and its holder; what of it must come down."""
    user, shown = who(request), queries.shown_or_404(code)
    before = {name: getattr(shown, name) for name in register.MENDED}
    form = MendShownForm(typed(request), initial=before)

    def act() -> str:
        said = form.typed_in(*register.MENDED)
        register.mend_shown(shown=shown, by=user, at=now(), **said)
        return reverse("uses:use", args=[shown.code])

    lines = [line for line in queries.undo_lines(user) if line.shown_id == shown.pk]
    return answer(
        request,
        "uses/use.html",
        form,
        act,
        shown=shown,
        pictures=shown.pictures.order_by("code"),
        lines=coming_down.waiting(lines),
        came_down=[line for line in lines if line.done_on is not None],
        held_before=register.held_before(shown),
        on=today(),
        at=now(),
    )
