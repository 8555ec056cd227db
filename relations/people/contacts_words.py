"""The words of a telephone's contacts: what its columns are, and why something is not taken."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _

from . import contacts_cards as cards
from .words import REFUSED

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

# The properties of a card that may be taken (RFC 6350, 6.2 and 6.4).
COLUMNS: Mapping[str, "_StrPromise"] = {
    cards.CALLED: _("The whole name"),
    cards.GIVEN: _("The given name alone"),
    cards.NICKNAME: _("The nickname"),
    cards.NUMBER: _("The telephone numbers"),
    cards.NOTE: _("The note"),
}
# Those that are never taken; what is not here is called as the file calls it.
LEFT: Mapping[str, "_StrPromise"] = {
    "ADR": _("addresses"),
    "BDAY": _("birthdays"),
    "EMAIL": _("e-mail addresses"),
    "IMPP": _("other ways to write to them"),
    "ORG": _("where they work"),
    "PHOTO": _("photographs"),
    "TITLE": _("their work"),
    "URL": _("web pages"),
}
# Why a file is not read.
NOT_READ: Mapping[str, "_StrPromise"] = {
    "too_large": _("This file is larger than 1 MB. Give only those whom somebody spoke of."),
    "too_many_lines": _("More than 500 people are in it. Give only those somebody spoke of."),
    "too_wide": _("There is more in this file than a list of contacts holds."),
    "nothing_in_it": _("Nobody is in this file."),
    "no_text": _("This is no file of contacts."),
    "no_table": _("These lines cannot be parted into columns. Save the file as CSV once more."),
    "cut_short": _("The last card in it has no end. Let the telephone make the file once more."),
}
# Why a line cannot be taken.
NOT_TAKEN: Mapping[str, "_StrPromise"] = {
    "no_name": _("It says no name."),
    "many_numbers": _("It holds more than eight numbers."),
    "twice": _("The same name and numbers stand above."),
    "never_ring": REFUSED["never_ring"],
}
