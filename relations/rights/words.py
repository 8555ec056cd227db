"""The words of the rights room: what was lost, and the card of five lines."""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from .values import Lost

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

LOST: dict[str, "_StrPromise"] = {
    Lost.PHONE: pgettext_lazy("what was lost", "A phone"),
    Lost.BAG: pgettext_lazy("what was lost", "A bag"),
    Lost.PAPERS: pgettext_lazy("what was lost", "Papers"),
    Lost.LAPTOP: pgettext_lazy("what was lost", "A laptop"),
}
CARD: tuple["_StrPromise", ...] = (
    _("Get away from danger first; things can be replaced."),
    _("Say now what was lost, from any browser; details later."),
    _("Do not go back for it, and do not ring numbers that were on it."),
    _("The artist rings those who may be touched, grave first; you ring nobody."),
    _("Write down the hour, the place and what was in it while you remember."),
)
REFUSED: dict[str, "_StrPromise"] = {
    "artist_or_keeper": _("This is for the artist or the keeper."),
    "before_it_was_known": _("It was not known yet on that day."),
}
