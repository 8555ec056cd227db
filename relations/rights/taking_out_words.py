"""The words for how an asking for the whole register ended, and for what is refused on its page."""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _

from .values import TakingEnd

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

# What is typed, in every language.
OPEN = "python3 manage.py open_register FILE DIR"
ENDED: dict[str, "_StrPromise"] = {
    TakingEnd.TAKEN: _("It was taken out"),
    TakingEnd.REFUSED: _("The keeper said no"),
    TakingEnd.CALLED_OFF: _("It was called off"),
    TakingEnd.TOO_LATE: _("Nobody answered or took it in time"),
    TakingEnd.ALARM: _("Ended by an alarm"),
    TakingEnd.HELD_BACK: _("Ended by the hold on every new use"),
    TakingEnd.ONE_IS_GONE: _("One of the two is artist or keeper no more"),
}
REFUSED: dict[str, "_StrPromise"] = {
    "no_reason": _("Say in one line what it is for and where it goes."),
    "no_keeper": _("There is no keeper who signs in, and nobody takes the register out alone."),
    "one_for_both": _("Who asked cannot confirm it too: it takes two people."),
    "not_confirmed": _("The keeper has not confirmed it yet."),
    "taking_taken": _("It was taken out already, and only once. Ask again."),
    "taking_refused": _("The keeper said no. Talk to each other, then ask again."),
    "taking_called_off": _("It was called off. Ask again."),
    "taking_too_late": _("The time for this is over. Ask again when both have time for it."),
    "taking_alarm": _("Something was lost. Nothing leaves before that alarm is closed."),
    "taking_held_back": _("Every new use is held back, so nothing leaves."),
    "taking_one_is_gone": _("One of the two is artist or keeper no more. Ask again."),
}
