"""The words for what was mended."""

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
