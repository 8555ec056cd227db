"""The words for reasons, next actions, results and lines to undo."""

from typing import Any, NamedTuple

from django import template
from django.template.loader import get_template
from django.utils.functional import Promise
from django.utils.safestring import SafeString

from relations.consent.answers import NextAction, Result
from relations.languages.said import figures
from relations.languages.templatetags.words import mark
from relations.uses import standstill, words

register = template.Library()

Said = str | Promise
# The drawn mark of a result, which is also its class on a contact sheet.
MARKS = {Result.CLEARED: "ok", Result.CONDITIONS: "part", Result.NOT_CLEARED: "no"}


@register.filter
def reason(code: str) -> Said:
    """Why a picture may not be shown, in one sentence."""
    return words.REASONS[code].reason


@register.filter
def next_step(code: str) -> Said:
    """What is done about a reason, in one sentence."""
    return words.REASONS[code].next


@register.filter
def action(code: NextAction) -> Said:
    """What reasons that are settled together ask for: "Talk with them"."""
    return words.ACTIONS[code]


class Seen(NamedTuple):
    """How an answer is shown: its mark by name and drawn, its word, and both as a stamp."""

    mark: str
    drawn: SafeString
    word: Said
    stamp: str


@register.simple_tag
def answers(use: str) -> dict[Result, Seen]:
    """Each answer as it is shown in a use; made once for all the pictures of a page."""
    said: dict[str, Said] = {Result.CLEARED: may(use), **words.RESULTS}
    stamp = get_template("_stamp.html")
    return {
        result: Seen(
            name,
            mark(name),
            said[result],
            stamp.render({"mark": name, "weight": name, "word": said[result]}),
        )
        for result, name in MARKS.items()
    }


@register.filter
def may(use: str) -> Said:
    """What a cleared picture may do: "may hang"."""
    return words.MAY[use]


@register.filter
def asks(use: str) -> Said:
    """The question of a plan: "May these hang?"."""
    return words.ASKS[use]


@register.filter
def this(use: str) -> Said:
    """A plan in the words of its kind: "this book"."""
    return words.THIS[use]


@register.filter
def begins(use: str) -> Said:
    """What the first day of a plan is called: "the press day"."""
    return words.BEGINS[use]


@register.filter
def in_words(number: int) -> Said:
    """A number below ten as a word, a larger one in figures."""
    return words.NUMBERS[number] if number < len(words.NUMBERS) else str(figures(number))


@register.filter
def release(code: str) -> Said:
    """Whether those who can be recognised gave their leave: "limited"."""
    return words.RELEASES[code]


@register.filter
def undo(code: str) -> Said:
    """What must come down, as one thing to do or to say."""
    return words.UNDO[code]


@register.filter
def force(code: str) -> Said:
    """How far our hand reaches: "What is asked of others"."""
    return words.FORCES[code]


@register.filter
def of(known: dict[str, Any], key: str) -> Any:
    """What a table holds for a key; empty where it holds nothing."""
    return known.get(key, "")


@register.simple_tag
def new_uses() -> bool:
    """Whether new uses may be made now."""
    return standstill.may_be_used_anew()
