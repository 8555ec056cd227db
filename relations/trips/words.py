"""The words of the trips room: what is counted, in which heaps, and what is refused."""

from typing import TYPE_CHECKING

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from relations.consent.refusals import REFUSALS as OF_PAPERS
from relations.meetings.words import REFUSED as OF_MEETINGS

from .values import Counted, How

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

THINGS: dict[str, "_StrPromise"] = {
    Counted.FILM: _("Film, in sheets"),
    Counted.PRINTS: _("Prints"),
    Counted.MONEY: _("Money"),
    Counted.RECORDINGS: _("Recordings"),
}
# What each heap is called, and on the second line the sum it must come to.
HOWS: dict[str, "_StrPromise"] = {
    How.TAKEN: _("Taken out"),
    How.UNUSED: _("Brought back unused"),
    How.EXPOSED: _("Exposed"),
    How.PROCESSED: _("Processed"),
    How.LOST: _("Lost"),
    How.IN_HAND: _("In their hands"),
    How.HANDED_ON: _("Handed on"),
    How.KEPT: _("Kept for them"),
    How.BROUGHT_BACK: _("Brought back"),
    How.SPENT: _("Spent, with a slip"),
    How.MADE: _("Made"),
    How.SEALED: _("Sealed here, off the phone"),
    How.DESTROYED: _("Destroyed"),
}
SUMS: dict[str, "_StrPromise"] = {
    Counted.FILM: _("Taken out is exposed and unused; exposed is processed and lost."),
    Counted.PRINTS: _("Taken out is in their hands, handed on, kept for them and brought back."),
    Counted.MONEY: _("Taken out is spent and brought back."),
    Counted.RECORDINGS: _("Made is sealed here and destroyed; none stays on a phone."),
}
# What keeps a trip from being closed.
OPEN: dict[str, "_StrPromise"] = {
    "blanks_open": _("Not every blank is accounted for."),
    "missing_untold": _("A blank is missing and no alarm names it."),
    "film_open": _("The film does not come to zero."),
    "prints_open": _("The prints do not come to zero."),
    "money_open": _("The money does not come to zero."),
    "recordings_open": _("The recordings do not come to zero."),
}
# What an action of this room, or one below it, refuses.
REFUSED: dict[str, Promise] = {
    **OF_PAPERS,
    **OF_MEETINGS,
    **OPEN,
    "outside_trip": _("One of these days is not a day of the trip."),
    "round_without_day": _("A round needs a day on which you work."),
    "trip_closed": _("This trip is closed."),
    "trip_not_over": _("This trip is not over yet."),
    "no_days": _("Say first on which days you work. Without days there is no pack."),
    "no_blanks": _("No blank is signed out to this trip. Print blanks first."),
    "nobody_here": _("Nobody with this code is in your sight today."),
    "no_such_count": _("This is not counted here."),
}
