"""The words of the introductions: what their codes are called on a screen."""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _

from relations.people.values import LinkOver

from .graph import Kind
from .questions import Ask

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

KINDS: dict[str, "_StrPromise"] = {
    Kind.FIRST: _("told us first"),
    Kind.FURTHER: _("told us too"),
    Kind.SPOKE_FOR: _("spoke for them later"),
    Kind.TOO_EARLY: _("was not known to us on that day"),
}
OVER: dict[str, "_StrPromise"] = {
    LinkOver.SAT_LONG_AGO: _("their last sitting is long past"),
    LinkOver.CLOSED: _("their file is closed"),
}
# What else says that two know each other, once their link is sealed.
STILL_TOLD: dict[str, "_StrPromise"] = {
    "telephone": _("They share a telephone number. End the line of one of them if you can."),
    "speaker": _("One of them speaks for the other."),
    "picture": _("They are in one picture."),
    "words": _(
        "A line of what to do, or of what may be said, names one of them at the other. Change it."
    ),
}
ASKED: dict[str, "_StrPromise"] = {
    Ask.NEVER_REACHED: _("Nobody told us of the one who told us"),
    Ask.TOO_EARLY: _("Told us before we knew of them"),
    Ask.HAS_NOT_SAT: _("Named by somebody who has not sat"),
    Ask.SEALED: _("Named, and who told us is sealed"),
    Ask.ORDER: _("Only the month or the year is known: the order is assumed"),
}
SETTLES: dict[str, "_StrPromise"] = {
    Ask.NEVER_REACHED: _("Note who told us of them, or mend who told us here."),
    Ask.TOO_EARLY: _("Mend the day or who told us, or note an earlier word of them."),
    Ask.HAS_NOT_SAT: _("It waits until they sit, or until somebody who has sat tells us too."),
    Ask.SEALED: _("Nobody can vouch for them until somebody else tells us too."),
    Ask.ORDER: _("Mend the day once somebody remembers it; until then the first day counts."),
}
