"""The words for codes of the pictures room."""

from django import template
from django.utils.functional import Promise

from relations.pictures import words

register = template.Library()

Said = str | Promise


@register.filter
def light(code: str) -> Said:
    """The light of a sitting: "flash"."""
    return words.LIGHTS.get(code, "")


@register.filter
def sheet_state(code: str) -> Said:
    """What became of a sheet: "processed"."""
    return words.SHEETS.get(code, "")


@register.filter
def others(code: str) -> Said:
    """Whether somebody is in the frame who did not sit."""
    return words.OTHERS.get(code, "")


@register.filter
def became(code: str) -> Said:
    """What became of somebody who did not sit: "not asked yet"."""
    return words.BECAME.get(code, "")


@register.filter
def where(code: str) -> Said:
    """What holds a name: "the caption"."""
    return words.WHERE.get(code, "")


@register.filter
def place_word(code: str) -> Said:
    """How finely a place may be told: "the city"."""
    return words.PLACES.get(code, "")


@register.filter
def recognisable(code: str) -> Said:
    """Whether a sitter can be recognised."""
    return words.RECOGNISABLE.get(code, "")
