"""What this computer's clock says beside the last entry, and who may say that it is right."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from . import clock as clocks
from .access import EVERYONE, roles
from .account_views import CARERS
from .answering import who


@roles(*EVERYONE)
@require_http_methods(["GET", "HEAD", "POST"])
def clock(request: HttpRequest) -> HttpResponse:
    """The two moments; the artist or the keeper ends the wait by a press."""
    user, last = who(request), clocks.behind()
    may_tell = user.is_one_of(*CARERS)
    if request.method == "POST":
        if not may_tell:
            raise Http404
        if last:
            clocks.is_right(by=user)
        return redirect("privacy:clock")
    context = {"last": last, "at": timezone.now(), "may_tell": may_tell}
    return render(request, "privacy/clock.html", context)
