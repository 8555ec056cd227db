"""The words of rounds: what came of a door, what a print lacks to go on one, what is refused."""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _

from .doors import AtDoor
from .words import REFUSED as OF_STEPS

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

CAME: dict[str, "_StrPromise"] = {
    AtDoor.GIVEN: _("Given to them, in person"),
    AtDoor.HANDED_ON: _("Handed on through somebody"),
    AtDoor.NOT_HOME: _("Nobody home"),
    AtDoor.NOT_SAFE: _("Not safe: kept for them"),
    AtDoor.GAVE_BACK: _("They gave it back"),
    AtDoor.LOST: _("It is lost"),
    AtDoor.NOT_REACHED: _("Not reached: still in the bag"),
}
# The weight of a stamp and the drawn mark in it.
STAMPS: dict[str, tuple[str, str]] = {
    AtDoor.GIVEN: ("ok", "ok"),
    AtDoor.HANDED_ON: ("ok", "hand"),
    AtDoor.NOT_HOME: ("part", "late"),
    AtDoor.NOT_SAFE: ("no", "risk"),
    AtDoor.GAVE_BACK: ("part", "no"),
    AtDoor.LOST: ("part", "late"),
    AtDoor.NOT_REACHED: ("wait", "wait"),
}
# What a print lacks before it may go on a round.
LACKS: dict[str, "_StrPromise"] = {
    "left_alone": OF_STEPS["left_alone"],
    "two_tries": _("Nobody was home twice. Ask the sitter for a better way, not the neighbours."),
    "safe_way": _("No safe way was agreed."),
    "quarter": _("Say in which quarter it is brought."),
}
# Why a door is not on the way.
LEFT: dict[str, "_StrPromise"] = {
    "minutes_unknown": _("the minutes between the quarters are not noted."),
    "hours_passed": _("the hours agreed are over before you can be there."),
    "dark": _("it would be dark, or later than you wish."),
    "not_together": _("it cannot be reached in its hours together with the others."),
}
REFUSED: dict[str, "_StrPromise"] = {
    **OF_STEPS,
    "out_already": _("It is out on a round: note first what came of it."),
    "which_end": _("No sunset is known here. Say by when the last door is behind you."),
    "before_light": _("The sun is not up yet. Set out later."),
    "no_daylight": _("No daylight is left for this round. Choose another hour or day."),
    "no_doors": _("Choose what goes on the round."),
    "too_many_doors": _("A round has ten doors at most. Leave some for the next."),
    "wants_another": _("They do not want whoever walks this round. Leave it for the artist."),
    "day_gone": _("This day is over. A round is planned for today or later."),
    "round_meanwhile": _("Somebody planned a round at this very moment. Send it again."),
    "not_all_reached": _("Not all of these doors can be reached. Leave some for the next round."),
    "typed_already": _("It was typed in before. Nothing was stored twice."),
    "noted_already": _("It was noted on another page already. Nothing was stored twice."),
    "set_out_already": _("This round has set out. Type in what came of each letter."),
    "not_set_out": _("This round has not set out yet."),
    "before_the_round": _("The round was on a later day."),
    "which_came": _("Say what came of it."),
    "hours_turned": _("The hours end before they begin."),
    "street": _("The name of a quarter only: no street and no number."),
}
