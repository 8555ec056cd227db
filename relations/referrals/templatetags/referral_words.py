"""The words for codes of the introductions."""

from django import template
from django.urls import reverse
from django.utils.functional import Promise
from django.utils.translation import gettext as _

from relations.languages.templatetags.words import code_shown, with_values
from relations.referrals import words
from relations.referrals.graph import ARTIST, WITHHELD
from relations.referrals.questions import Hearing

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


@register.filter
def told_of(one: Hearing) -> str:
    """Who told us of whom, in one sentence of codes."""
    person = code_shown(one.person, reverse("people:detail", args=[one.person]))
    if one.source == ARTIST:
        said = _("%(person)s, our own start")
    elif one.source == WITHHELD:
        said = _("Somebody withheld told us of %(person)s")
    else:
        said = _("%(who)s told us of %(person)s")
    return with_values(said, who=code_shown(one.source), person=person)
