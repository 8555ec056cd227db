"""The words for what was mended, and for what a line of the day sheet is."""

from typing import TYPE_CHECKING

from django import template

from relations.today import words

if TYPE_CHECKING:
    from django.utils.functional import Promise

register = template.Library()


@register.filter
def field(name: str) -> "str | Promise":
    """What a mended field is called; one without words stays itself."""
    return words.FIELDS.get(name, name)


@register.filter
def line_for(work: str) -> "Promise":
    """What a line of the day sheet is for."""
    return words.WORKS[work]
