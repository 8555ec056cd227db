"""The words for codes of the people room, and the names of languages."""

from collections.abc import Iterable
from datetime import date, datetime

from babel.dates import format_skeleton
from django import template
from django.urls import reverse
from django.utils import timezone
from django.utils.functional import Promise
from django.utils.translation import get_language

from relations.languages.direction import isolated
from relations.languages.manner import manner
from relations.languages.paper_days import beside
from relations.languages.said import aged, written
from relations.languages.templatetags.words import code_shown, day, reader_locale
from relations.people import births, queries, rules, words
from relations.people.models import Introduction, Participant
from relations.people.values import Precision
from relations.privacy.home import today

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
def misread(code: str) -> Said:
    """What is wrong with a number as it was typed: "This number is too short."."""
    return words.REFUSED.get(code, "")


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


# What Babel is asked for where less than the day is known.
SKELETONS = {Precision.MONTH: "yMMM", Precision.YEAR: "y"}


@register.filter
def heard(on: date, precision: str) -> str:
    """When word came through, no finer than it is known: "4 March 2024", "Mar 2024", "2024"."""
    known = Precision(precision)
    if known is Precision.DAY:
        return day(on)
    return written(str(format_skeleton(SKELETONS[known], on, locale=reader_locale())))


@register.filter
def spoken(tag: str) -> Said:
    """The name of a language, in the reader's: "French"."""
    if tag in words.OTHER_LANGUAGES:
        return words.OTHER_LANGUAGES[tag]
    return str(reader_locale().languages.get(tag) or tag)


@register.filter
def script(code: str) -> str:
    """The name of a script, in the reader's language: "Arabic"; unknown, its code."""
    return str(reader_locale().scripts.get(code, code))


@register.filter
def all_spoken(tags: Iterable[str]) -> list[Said]:
    """The names of several languages, as they follow each other."""
    return [spoken(tag) for tag in tags]


@register.filter
def told_by(told: Introduction) -> str:
    """Whoever told us, by code: of the register, with a way to their page, or from outside it."""
    if told.introducer:
        page = reverse("people:detail", args=[told.introducer.code])
        return code_shown(told.introducer.code, page)
    return code_shown(told.outside.code if told.outside else "")


@register.filter
def clock(zone: str) -> str:
    """The place whose clock a time zone is: "Rome"."""
    return words.clock(zone)


@register.filter
def ripeness(person: Participant) -> Said:
    """Whether somebody is of age today: "of age", "under age", or neither is sure."""
    birth = queries.birth(person)
    return words.RIPENESS[rules.ripeness(birth, today(), met_as_adult=person.met_as_adult)]


@register.filter
def age(person: Participant) -> str:
    """How old somebody can be today, in years: "17–18", or "36"; empty where it is not known."""
    birth = queries.birth(person)
    if birth is None:
        return ""
    return isolated(aged(*births.ages(birth, today())), "ltr")


@register.filter
def theirs(value: date | None, person: Participant) -> str:
    """A day as the person's own calendar has it, in brackets: " (9 Mangsir 2083 BS)"; or empty.

    Empty too where the reader's own days bear this calendar already.
    """
    if value is None or person.own_calendar is manner().calendar:
        return ""
    if isinstance(value, datetime):
        value = timezone.localtime(value).date()
    found = beside(value, get_language() or "en", person.own_calendar)
    return f" ({found})" if found else ""
