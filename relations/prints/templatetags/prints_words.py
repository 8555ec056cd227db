"""The words for where a print is, and for promises."""

from datetime import time
from typing import Any

from django import template
from django.utils.functional import Promise as Words

from relations.languages.codes import grouped
from relations.languages.templatetags.words import day
from relations.prints import round_words, words
from relations.prints.models import Print, Promise, Step
from relations.prints.rules import NEEDS_SLIPS
from relations.privacy.home import home

register = template.Library()

Said = str | Words


@register.filter
def way_said(row: Print) -> str:
    """Where a print is, in one sentence with its day; a travelling set has no day."""
    if home().travelling:
        state = str(words.STATES[row.state])
        return f"{state[:1].upper()}{state[1:]}."
    return str(words.SAYS[row.state]) % {"day": day(row.state_on)}


@register.filter
def step_said(row: Step) -> str:
    """What one step was, in a word or two: its day stands beside it, and what came next above."""
    said = str(words.STATES[row.became])
    return said[:1].upper() + said[1:]


@register.filter
def hint(state: str) -> Said:
    """What to do next with a print, where something is to be said about it."""
    return words.NEXT.get(state, "")


@register.filter
def instruction(row: Print) -> Said:
    """What an assistant's list says of a print that is held close, and all that it says."""
    return words.HELD_CLOSE[row.is_safe is True]


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


@register.filter
def aloud(code: str) -> str:
    """A print's code as it is read aloud and printed on its slips: "ACD EFX"."""
    return grouped(code)


@register.filter
def needs_slips(row: Print) -> bool:
    """Whether slips are printed for it here; the artist sees to what is not made at the lab."""
    return row.state in NEEDS_SLIPS and not row.not_at_the_lab


@register.inclusion_tag("_stamp.html")
def print_stamp(state: str) -> dict[str, Any]:
    """A print's state as a stamp: drawn mark, word and weight."""
    weight, mark = words.STAMPS.get(state, ("", ""))
    return {"weight": weight, "mark": mark, "word": words.STATES[state]}


@register.filter
def lack_said(code: str) -> Said:
    """What a print lacks before it may go on a round."""
    return round_words.LACKS[code]


@register.inclusion_tag("_stamp.html")
def door_stamp(came: str) -> dict[str, Any]:
    """What came of a door as a stamp."""
    weight, mark = round_words.STAMPS[came]
    return {"weight": weight, "mark": mark, "word": round_words.CAME[came]}


@register.filter
def clock(value: time | None) -> str:
    """An hour that was agreed, on the 24-hour clock: "10:05"."""
    return f"{value:%H:%M}" if value else ""


@register.filter
def closed_how(code: str) -> Said:
    """How a print ended that was closed out: "into the archive"."""
    return words.CLOSED_HOW[code]


@register.filter
def otherwise_said(row: Promise) -> str:
    """How a promise ended that was not kept, in one sentence with its day."""
    return str(words.OTHERWISE_SAYS[row.ended_how]) % {"day": day(row.ended_on)}
