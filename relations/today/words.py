"""The words of the whole page of a person: what a mended field is called."""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

FIELDS: dict[str, "_StrPromise"] = {
    "alt_text": _("What the picture shows"),
    "authority_holders": _("How many answer for the child"),
    "born_earliest": _("Born, first day"),
    "born_latest": _("Born, last day"),
    "born_said": _("Born, as said"),
    "call_name": _("What to call them"),
    "community": _("Group"),
    "heard_on": _("Heard on"),
    "instruction": _("What to do"),
    "met_as_adult": _("Met as an adult"),
    "note": _("Note"),
    "others": _("Others in the frame"),
    "place": _("Place in the frame"),
    "recognisable": _("Recognisable"),
    "text": _("Name"),
}
