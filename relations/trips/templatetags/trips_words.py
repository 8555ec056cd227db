"""The words for codes of the trips room."""

from django import template
from django.utils.functional import Promise

from relations.languages.said import figures
from relations.trips import words
from relations.trips.values import Counted

register = template.Library()

Said = str | Promise


@register.filter
def thing(code: str) -> Said:
    """What is counted: "Film, in sheets"."""
    return words.THINGS[code]


@register.filter
def how(code: str) -> Said:
    """The heap that something lies in: "Processed"."""
    return words.HOWS[code]


@register.filter
def open_end(code: str) -> Said:
    """What keeps a trip from being closed."""
    return words.OPEN[code]


@register.filter
def sum_of(code: str) -> Said:
    """The sum that a thing must come to."""
    return words.SUMS[code]


@register.filter
def amount(thing: str, number: int) -> str:
    """A number without its sign, money with its two places: "12.50"."""
    return f"{abs(number) / 100:.2f}" if thing == Counted.MONEY else str(figures(abs(number)))
