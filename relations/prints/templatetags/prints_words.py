"""The words for where a print is, and for promises."""

from typing import Any

from django import template
from django.utils.functional import Promise as Words

from relations.languages.templatetags.words import day
from relations.prints import words
from relations.prints.models import Print, Step

register = template.Library()

Said = str | Words


@register.filter
def way_said(row: Print) -> str:
    """Where a print is, in one sentence with its day."""
    return str(words.SAYS[row.state]) % {"day": day(row.state_on)}


@register.filter
def step_said(row: Step) -> str:
    """What one step was, in one sentence with its day."""
    return str(words.SAYS[row.became]) % {"day": day(row.on)}


@register.filter
def hint(state: str) -> Said:
    """What to do next with a print, where something is to be said about it."""
    return words.NEXT.get(state, "")


@register.filter
def step_press(state: str) -> Said:
    """What a press is called that brings a print into a state."""
    return words.STEPS[state]


@register.filter
def why_not(code: str) -> Said:
    """Why a step cannot be taken yet."""
    return words.REFUSED[code]


@register.filter
def promised(kind: str) -> Said:
    """What was promised: "a copy of the book"."""
    return words.PROMISES[kind]


@register.inclusion_tag("_stamp.html")
def print_stamp(state: str) -> dict[str, Any]:
    """A print's state as a stamp: drawn mark, word and weight."""
    weight, mark = words.STAMPS.get(state, ("", ""))
    return {"weight": weight, "mark": mark, "word": words.STATES[state]}
