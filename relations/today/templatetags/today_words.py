"""The words for what was mended, and for what a line of the day sheet is."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from django import template
from django.urls import reverse

from relations.languages.templatetags.words import code_shown
from relations.people.models import Participant
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


@register.filter
def linked(people: "Iterable[Participant | str]") -> list[str]:
    """The codes of people, each with a way to their page."""
    codes = [one.code if isinstance(one, Participant) else one for one in people]
    return [code_shown(code, reverse("today:person", args=[code])) for code in codes]
