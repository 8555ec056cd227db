"""The words for what was lost, the clock of an alarm, and what a backup holds."""

from datetime import datetime

from django import template
from django.utils.functional import Promise

from relations.rights import rules, words
from relations.rights.models import Alarm, Backup

register = template.Library()


@register.filter
def lost(code: str) -> str | Promise:
    """What was lost: "A phone"."""
    return words.LOST[code]


@register.filter
def asked_by(code: str) -> str | Promise:
    """Who asked: "A reporter"; what an earlier register holds is said as it stands."""
    return words.ASKED_BY.get(code, code)


@register.filter
def told(code: str) -> str | Promise:
    """What they were told."""
    return words.TOLD.get(code, code)


@register.filter
def until(alarm: Alarm) -> datetime:
    """The hour until which the authority is told."""
    return rules.deadline(alarm.known_at)


@register.filter
def held(backup: Backup) -> list[tuple[str | Promise, int]]:
    """What a backup holds: "Forms", 65; only of what it counted."""
    counts = backup.counts
    return [(word, counts[label]) for label, word in words.HELD.items() if label in counts]
