"""The working page of each role, and the whole page of a person."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from relations.consent import team
from relations.consent.access import newest
from relations.consent.team_forms import TeamSheetForm
from relations.consent.team_views import answer_sheet
from relations.documents.values import PaperKind
from relations.languages.codes import grouped
from relations.meetings import talks
from relations.meetings.due import rings_due
from relations.people import access, newcomers
from relations.people.actions import let_never_rings_go
from relations.prints.actions import keep_from_the_lab
from relations.prints.queries import print_or_404, to_ask_again, trip_on
from relations.privacy.access import EVERYONE, HANDS, roles
from relations.privacy.answering import typed, who
from relations.privacy.home import now
from relations.privacy.home import today as this_day
from relations.privacy.models import Role, User
from relations.privacy.queries import told
from relations.rights import handing_on, letting_go, people_ending, taking_out
from relations.rights.queries import backup_state, open_alarms, requests_due
from relations.uses import standstill

from . import actions, day_sheet, doorsteps, outbox, promised, queries
from . import person as whole


@roles(*EVERYONE)
@require_safe
def today(request: HttpRequest) -> HttpResponse:
    """What is waiting, in order of need, and nothing about anyone else."""
    user = who(request)
    let_never_rings_go(at=now())
    if user.role == Role.KEEPER:
        context = {
            "counts": queries.counts(),
            "told": told(user),
            "shows": _shows(),
            "backup": backup_state(timezone.now()),
            "to_let_go": len(letting_go.waiting(this_day())),
            "alarms": open_alarms(),
            "held_back": standstill.current(),
            "taking_out": taking_out.on_today(now()),
            "at": now(),
        }
        return render(request, "today/counts.html", context)
    if user.role == Role.WORDING_READER:
        context = {"wordings": queries.wordings(user), "at": now()}
        return render(request, "today/wordings.html", context)
    actions.lay_out_the_day(user=user, on=this_day())
    context = {**_for_hands(user), **(_for_artist(user) if user.is_artist else {})}
    return render(request, "today/today.html", context)


def _for_hands(user: User) -> dict[str, Any]:
    people, at, trip = access.people(user), now(), trip_on(this_day())
    moves, more = queries.prints(people, this_day())
    rings = rings_due(user, at)
    return {
        "at": at,
        # The artist, who sees everybody's, has a button for it: the day asks enough already.
        "written": 0 if user.is_artist else outbox.waiting(user).count(),
        "stops": queries.stops(people),
        "undo_lines": queries.undo_lines(people, at),
        "holds": queries.holds(people),
        "meetings": queries.meetings(people, at),
        "doorsteps": queries.doorsteps(people),
        "rings": [ring for ring in rings if ring.is_now],
        "later": [ring for ring in rings if not ring.is_now],
        "forms": queries.forms(people, user),
        "day_sheets": day_sheet.still_open(user, at),
        "moves": moves,
        "more": more,
        "ask_again": to_ask_again(people, trip) if trip else [],
        "promised": promised.due(people, this_day(), with_uses=user.is_artist),
    }


def _for_artist(user: User) -> dict[str, Any]:
    keep_from_the_lab()
    return {
        "backup": backup_state(timezone.now()),
        "alarms": open_alarms(),
        "picture_holds": queries.picture_holds(),
        "last_words": queries.last_words(access.people(user), this_day()),
        "to_ask": queries.to_ask(access.people(user), this_day()),
        "misuses": queries.misuses(),
        "requests": requests_due(now()),
        "talks": talks.waiting(this_day(), now()),
        "offers": doorsteps.second_talks(access.people(user), this_day()),
        "looks": queries.looks(access.people(user), this_day()),
        "told": told(user),
        "waiting": queries.waiting_for_yes(),
        "rang": queries.rang(),
        "shared": queries.shared_never_rings(),
        "shows": _shows(),
        "to_introduce": len(handing_on.tasks()),
        "taking_out": taking_out.on_today(now()),
        "unwanted": newcomers.standing(),
        "to_look_for": len(people_ending.to_look_for(this_day())),
    }


def _shows() -> list[access.Shows]:
    """Who was shown too many numbers of late. The log goes by the clock, also in a rehearsal."""
    return access.shown_too_many(timezone.localdate())


@roles(*HANDS)
@require_safe
def person(request: HttpRequest, code: str) -> HttpResponse:
    """The whole page of a person; the assistant's holds no level and no introductions."""
    user, found = who(request), access.person(request.user, code)
    if user.is_artist:
        beside = whole.for_artist(found, this_day())
    else:
        beside = whole.for_assistant(found, user, this_day())
    context = {**whole.for_everyone(found, now()), **beside}
    return render(request, "today/person.html", context)


@roles(*HANDS)
def receipt(request: HttpRequest, person: str, picture: str) -> HttpResponse:
    """The receipt for a print, to be marked at the door; it bears the code of its slips."""
    user = who(request)
    row = print_or_404(user, person, picture)
    code, theirs = grouped(row.code), row.person.language_list
    form = TeamSheetForm(typed(request), user=user, wordings=newest(user), theirs=theirs)
    return answer_sheet(
        request,
        "today/receipt.html",
        form,
        PaperKind.RECEIPT,
        lambda: team.of_print(code=code),
        lambda: [row.person],
        row=row,
    )
