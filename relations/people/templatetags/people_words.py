"""The words for codes of the people room, and the names of languages."""

from django import template
from django.utils.functional import Promise

from relations.languages.templatetags.words import reader_locale
from relations.people import words

register = template.Library()

Said = str | Promise


@register.filter
def standing(code: str) -> Said:
    """Where a person stands: "taking part"."""
    return words.STANDINGS.get(code, "")


@register.filter
def level(code: str) -> Said:
    """How much being shown may harm: "raised"; empty where nobody has set it."""
    return words.LEVELS.get(code, "")


@register.filter
def condition(code: str) -> Said:
    """Whether a person can answer: "cannot answer for now"."""
    return words.CONDITIONS.get(code, "")


@register.filter
def kind_of_name(code: str) -> Said:
    """What a name is: "their own name"."""
    return words.KINDS_OF_NAME.get(code, "")


@register.filter
def work(code: str) -> Said:
    """For what work somebody is in sight: "a ring"."""
    return words.WORKS.get(code, "")


@register.filter
def weekday(number: int) -> str:
    """A day of the week, 0 is Monday: "Tuesday"."""
    return str(reader_locale().days["stand-alone"]["wide"][number])


@register.filter
def spoken(tag: str) -> Said:
    """The name of a language, in the reader's: "French"."""
    if tag in words.OTHER_LANGUAGES:
        return words.OTHER_LANGUAGES[tag]
    return str(reader_locale().languages.get(tag) or tag)


@register.filter
def clock(zone: str) -> str:
    """The place whose clock a time zone is: "Rome"."""
    return words.clock(zone)
