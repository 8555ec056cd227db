"""The words of this room: what a mended field is called, and the boxes of the day sheet."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _

from relations.consent.refusals import REFUSALS as OF_CONSENT
from relations.meetings.values import Work
from relations.meetings.words import MEETING_STATES, OUTCOMES
from relations.meetings.words import REFUSED as OF_MEETINGS
from relations.prints.words import REFUSED as OF_PRINTS
from relations.prints.words import STEPS

if TYPE_CHECKING:
    from django.utils.functional import Promise, _StrPromise

FIELDS: dict[str, "_StrPromise"] = {
    "alt_text": _("What the picture shows"),
    "asked_first": _("Asked first"),
    "authority_holders": _("How many answer for the child"),
    "born_earliest": _("Born, first day"),
    "born_latest": _("Born, last day"),
    "born_said": _("Born, as said"),
    "call_name": _("What to call them"),
    "community": _("Group"),
    "has_power": _("Has power over them"),
    "heard_on": _("Heard on"),
    "instruction": _("What to do"),
    "introducer": _("Told us of them"),
    "may_say_who": _("May we say who sent us?"),
    "met_as_adult": _("Met as an adult"),
    "note": _("Note"),
    "others": _("Others in the frame"),
    "outside": _("Told us of them, from outside"),
    "place": _("Place in the frame"),
    "precision": _("What is known of the day"),
    "recognisable": _("Recognisable"),
    "text": _("Name"),
    "vouched_on": _("Vouched for"),
}

# What a line of the day sheet is for.
WORKS: dict[str, "_StrPromise"] = {
    Work.STOP: _("A stop or a hold"),
    Work.MEETING: _("Meeting"),
    Work.DOOR: _("Doorstep"),
    Work.RING: _("Ring"),
}
STOPS: dict[str, "_StrPromise"] = {
    "all": _("They take everything back"),
    "hold": _("Hold"),
    "never": _("Never ring again"),
}
# The words of each box, by what the line is for.
BOXES: dict[str, Mapping[str, "Promise"]] = {
    Work.STOP: STOPS,
    Work.MEETING: MEETING_STATES,
    Work.DOOR: STEPS,
    Work.RING: OUTCOMES,
}
OF_LINES: dict[str, "_StrPromise"] = {
    "typed_already": _("it was typed in before. Nothing was stored twice."),
    "noted_already": _("this ring was noted on the screen already. Nothing was stored twice."),
    "not_come_yet": _("this day has not come yet."),
    "gone": _("nothing of it is kept any more. Nothing was stored."),
    "nobody": _("nobody was found by this code."),
    "which_box": _("say which box was crossed."),
    "which_hour": _("say at which hour."),
    "whose": _("say whose code was written."),
}
# What the action behind a line refuses, in the words of its own room.
REFUSED: dict[str, Mapping[str, "Promise"]] = {
    Work.STOP: OF_CONSENT,
    Work.MEETING: OF_MEETINGS,
    Work.DOOR: OF_PRINTS,
    Work.RING: OF_MEETINGS,
}


def why_not(work: str, code: str) -> "Promise":
    """Why a line was refused; a code without words is a KeyError, so that none is silent."""
    return OF_LINES.get(code) or REFUSED[work][code]
