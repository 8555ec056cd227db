"""The day sheet: printed for a day without power, and typed in later by line number."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone

from relations.consent.access import newest
from relations.consent.sheet_views import printed
from relations.documents.models import Sheet
from relations.documents.values import PaperKind
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import again, typed, who
from relations.privacy.home import now

from . import day_sheet as paper
from .forms import DaySheetForm, TypeInForm
from .typed_in import type_in_all


@roles(*HANDS)
def day_sheet(request: HttpRequest) -> HttpResponse:
    """Print the day; below, the sheets that wait to be typed in."""
    user = who(request)
    theirs = [*user.languages, user.language]
    form = DaySheetForm(typed(request), user=user, wordings=newest(user), theirs=theirs)

    def make() -> tuple[Sheet, bytes]:
        first, second = form.pair
        return paper.print_day(first=first, second=second, by=user, at=now())

    return printed(
        request,
        "today/day_sheet.html",
        form,
        make,
        kind=PaperKind.DAY,
        lines=paper.planned(user, now()),
        waiting=paper.still_open(user, now()),
    )


@roles(*HANDS)
def type_in(request: HttpRequest, serial: str) -> HttpResponse:
    """A sheet that was filled in with a pen: each line is stored once, whatever is sent again."""
    user = who(request)
    sheet = paper.sheet_or_404(user, serial)
    lines, day = paper.lines(user, sheet), timezone.localdate(sheet.printed_at)
    form = TypeInForm(typed(request), lines=lines, prints=paper.prints(lines), day=day)
    if form.is_bound:
        form.full_clean()
        form.tell(*type_in_all(form.good_lines(), by=user))
        if not form.errors:
            return redirect("today:type_in", sheet.serial)
    typed_lines = sorted(form.typed.values(), key=lambda line: line.number)
    return again(request, "today/type_in.html", form, sheet=sheet, day=day, done=typed_lines)
