"""The words for codes of the introductions."""

from django import template
from django.utils.functional import Promise

from relations.referrals import words

register = template.Library()


@register.filter
def kind_of_link(code: str) -> str | Promise:
    """What one word was to how somebody was reached: "told us first"."""
    return words.KINDS[code]


@register.filter
def still(code: str) -> str | Promise:
    """What else says that two know each other."""
    return words.STILL_TOLD[code]


@register.filter
def asked(code: str) -> str | Promise:
    """What is open about one word."""
    return words.ASKED[code]


@register.filter
def settles(code: str) -> str | Promise:
    """What would settle it."""
    return words.SETTLES[code]
