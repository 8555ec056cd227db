"""The words for what was lost, the clock of an alarm, what a backup holds, counts and endings."""

from datetime import datetime
from math import ceil

from django import template
from django.utils.functional import Promise
from django.utils.translation import gettext as _

from relations.languages.said import figures
from relations.languages.templatetags.words import with_code
from relations.privacy.home import now
from relations.rights import counts, letting_words, rules, taking_out_words, words
from relations.rights.clocks import Proposal
from relations.rights.counting import Counted
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
def asks(code: str) -> str | Promise:
    """What somebody asks for: "Erase me"."""
    return words.REQUESTS[code]


@register.filter
def asked_way(code: str) -> str | Promise:
    """How they asked; empty where it was not said."""
    return words.ASKED_WAYS.get(code, "")


@register.filter
def sure_how(code: str) -> str | Promise:
    """How we were sure; empty where we are not yet."""
    return words.SURE.get(code, "")


@register.filter
def outcome(code: str) -> str | Promise:
    """What came of a request; empty while it is open."""
    return words.OUTCOMES.get(code, "")


@register.filter
def until(alarm: Alarm) -> datetime:
    """The hour until which the authority is told."""
    return rules.deadline(alarm.known_at)


@register.filter
def hours_left(alarm: Alarm) -> int:
    """How many whole hours of the 72 are left; below 0 where they have passed."""
    return rules.hours_left(alarm.known_at, now())


@register.filter
def touched(alarm: Alarm) -> int | None:
    """How many people an alarm touches, for whoever sees none of them; None where few do (F13)."""
    count: int = alarm.touched  # type: ignore[attr-defined] # `queries.alarms` annotates it
    return counts.alone(count, least=counts.LEAST_GRAVE)


@register.filter
def took(alarm: Alarm) -> int | None:
    """How many whole seconds it took until every session had ended; None where none was ended."""
    ended = alarm.sessions_ended_at
    return None if ended is None else ceil((ended - alarm.known_at).total_seconds())


@register.filter
def held(backup: Backup) -> list[tuple[str | Promise, int]]:
    """What a backup holds: "Forms", 65; only of what it counted."""
    counts = backup.counts
    return [(word, counts[label]) for label, word in words.HELD.items() if label in counts]


@register.filter
def counted(what: Counted) -> str | Promise:
    """What a table counts: "People who sat, by group"."""
    return words.COUNTED[what]


@register.filter
def counted_of(what: Counted) -> str | Promise:
    """What must be known of it."""
    return words.COUNTED_OF[what]


@register.filter
def ended(code: str) -> str | Promise:
    """How a print or a promise ended, as it is counted."""
    return words.ENDED[code]


@register.filter
def lacks(code: str) -> str | Promise:
    """What is missing before there is an ending."""
    return words.LACKS[code]


@register.filter
def half(key: str) -> str:
    """A half-year: "January to June 2026"."""
    year, part = key.split("-")
    said = _("January to June %(year)s") if part == "1" else _("July to December %(year)s")
    return said % {"year": figures(int(year))}


@register.filter
def clock(code: str) -> str:
    """What ran out: "Said no 30 days ago"."""
    return letting_words.said(letting_words.CLOCKS[code])


@register.filter
def to_go(one: Proposal) -> str:
    """What one line of the list lets go: "Who told us of 36"; the code keeps its order."""
    return with_code(letting_words.THINGS[one.clock], one.called)


@register.filter
def let_go_of(code: str) -> str:
    """What goes when this clock ran out."""
    return letting_words.said(letting_words.LET_GO_OF[code])


@register.filter
def stays_of(code: str) -> str:
    """What stays of it, and why; empty for a whole person, of whom the page says more."""
    return letting_words.said(letting_words.STAYS.get(code, ""))


@register.filter
def open_thing(code: str) -> str | Promise:
    """What is counted at a handover: "Prints with us"."""
    return words.COUNTED_BY_HAND[code]


@register.filter
def sitter_said(code: str) -> str | Promise:
    """What a sitter said of the newcomer."""
    return words.SPOKEN[code]


@register.filter
def person_ended(code: str) -> str | Promise:
    """How it ends for a person."""
    return words.PERSON_ENDED[code]


@register.filter
def deposit_level(code: str) -> str | Promise:
    """Who may see a picture in an archive."""
    return words.DEPOSIT_LEVELS[code]


@register.filter
def taking_ended(code: str) -> str | Promise:
    """How an asking for the whole register ended."""
    return taking_out_words.ENDED[code]
