"""The words for what was lost, and the clock of an alarm."""

from datetime import datetime

from django import template
from django.utils.functional import Promise

from relations.rights import rules, words
from relations.rights.models import Alarm

register = template.Library()


@register.filter
def lost(code: str) -> str | Promise:
    """What was lost: "A phone"."""
    return words.LOST[code]


@register.filter
def until(alarm: Alarm) -> datetime:
    """The hour until which the authority is told."""
    return rules.deadline(alarm.known_at)
