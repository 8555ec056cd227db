"""The words of the pictures room: what its codes are called on a screen."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from relations.meetings.words import REFUSED as OF_MEETINGS

from .leaks import Where
from .values import Became, Light, Others, PlaceWord, Recognisable, SheetState

LEAKS = _("A name stands in it that is never printed, in any script. Write it without.")
LEAKS_ELSEWHERE = _(
    "A name stands in it that somebody asked never to see printed. "
    "If it means another person, say so below."
)
LIGHTS: dict[str, Promise] = {
    Light.AVAILABLE: _("the light there was"),
    Light.FLASH: _("flash"),
}
SHEETS: dict[str, Promise] = {
    SheetState.EXPOSED: _("exposed"),
    SheetState.PROCESSED: _("processed"),
    SheetState.LOST: _("lost"),
}
OTHERS: dict[str, Promise] = {
    Others.NONE: _("Nobody else"),
    Others.SETTLED: _("Somebody, and it is settled with them"),
    Others.UNRESOLVED: _("Somebody, not asked yet, or not looked at"),
    Others.ERASED: _("Somebody who was erased; it is never shown again"),
}
PLACES: dict[str, Promise] = {
    PlaceWord.NONE: _("no place"),
    PlaceWord.COUNTRY: _("the country"),
    PlaceWord.CITY: _("the city"),
    PlaceWord.DISTRICT: _("the district"),
    PlaceWord.EXACT: _("the exact place"),
}
RECOGNISABLE: dict[str, Promise] = {
    Recognisable.YES: pgettext_lazy("can they be recognised", "Yes"),
    Recognisable.NO: pgettext_lazy("can they be recognised", "No"),
    Recognisable.UNSURE: pgettext_lazy("can they be recognised", "Unsure: counts as yes"),
}
BECAME: dict[str, Promise] = {
    Became.NOT_ASKED: _("not asked yet"),
    Became.SAID_YES: _("said yes, on paper"),
    Became.SAID_NO: _("said no"),
    Became.NOT_RECOGNISABLE: _("looked at again: cannot be recognised"),
}
WHERE: dict[str, Promise] = {
    Where.CAPTION: _("the caption"),
    Where.ALT_TEXT: _("the words for those who do not see it"),
    Where.FILE_NAME: _("the name of the file"),
    Where.QUOTE: _("the words of the quote"),
}
# What an action of this room, or the rule of standing behind it, refuses.
REFUSED: dict[str, Promise] = {
    **OF_MEETINGS,
    "nobody": _("Nobody sits."),
    "not_their_talk": _("This talk was held with somebody else."),
    "too_many_holders": _("There are more holders than sheets."),
    "no_sheet_exposed": _("No sheet was exposed: they do not take part yet."),
    "no_such_sheet": _("This sitting has no such sheet."),
    "nobody_in_frame": _("Say who is in the frame."),
    "not_a_sitter": _("Only those who sat are in the frame. Note who stepped in first."),
    "twice_in_frame": _("Two stand at the same place, or one stands there twice."),
    "other_sitting": _("This belongs to another sitting."),
    "not_a_picture": _("A light copy is a JPEG, PNG or WebP picture."),
    "too_many_pixels": _("This picture has too many pixels."),
    "too_large": _("This file is larger than 25 MB."),
    "broken": _("This picture cannot be read to its end."),
    "nothing_changed": _("These words stand there already."),
    "version_taken": _("There is such a version."),
    "erased": _("Somebody in it was erased. That stays."),
    "not_in_whole": _("In a crop are only those who are in the whole picture."),
    "sitter_there": _("At this place stands somebody who sat."),
    "no_paper": _("A yes stands on a form whose scan is filed: type its serial."),
    **{f"{where}_leaks": LEAKS for where in Where},
    **{f"{where}_leaks_elsewhere": LEAKS_ELSEWHERE for where in Where},
}
