"""The words for codes of the meetings room."""

from django import template
from django.utils.functional import Promise

from relations.meetings import words

register = template.Library()

Said = str | Promise


@register.filter
def outcome(code: str) -> Said:
    """What came of a ring: "No answer"."""
    return words.OUTCOMES.get(code, "")


@register.filter
def call_kind(code: str) -> Said:
    """A ring, a message or a visit."""
    return words.CALL_KINDS.get(code, "")


@register.filter
def meeting_state(code: str) -> Said:
    """Where a meeting stands: "confirmed"."""
    return words.MEETING_STATES.get(code, "")


@register.filter
def meeting_press(code: str) -> Said:
    """What one press does to a meeting: "Confirm"."""
    return words.ALL_PRESSES.get(code, "")


@register.filter
def part_of_day(code: str) -> Said:
    """A part of the day: "in the morning"."""
    return words.PARTS.get(code, "")


@register.filter
def helper_kind(code: str) -> Said:
    """Whether a helper interprets or witnesses."""
    return words.HELPERS.get(code, "")


@register.filter
def explained(code: str) -> Said:
    """One of the twelve things that are explained before the form is offered."""
    return words.EXPLAINED.get(code, "")


@register.filter
def told_back(code: str) -> Said:
    """One of the four things that they tell back."""
    return words.TOLD_BACK.get(code, "")


@register.filter
def helper_warning(code: str) -> tuple[Promise, Promise]:
    """What speaks against somebody who helps, and what to do."""
    return words.HELPER_WARNINGS[code]


@register.filter
def tie(code: str) -> Said:
    """What somebody is to the person besides: "Kin of theirs"."""
    return words.TIES.get(code, "")


@register.filter
def compass(azimuth: float) -> Said:
    """A direction in words, from degrees north by east: "south-east"."""
    return words.COMPASS[round(azimuth / 45) % 8]


@register.filter
def recording_press(code: str) -> Said:
    """What one press does to a recording: "Off the phone"."""
    return words.RECORDING_PRESSES.get(code, "")
