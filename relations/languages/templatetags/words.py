"""Days, hours, codes and marks as the pages print them in the reader's language."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime, time
from functools import lru_cache
from typing import Literal

from babel import Locale, UnknownLocaleError
from babel.dates import format_date
from django import template
from django.utils import timezone
from django.utils.functional import Promise
from django.utils.html import conditional_escape, format_html
from django.utils.safestring import SafeString
from django.utils.translation import get_language, get_language_bidi, pgettext

from relations.languages import paper_days, said
from relations.languages.direction import isolated, runs

register = template.Library()

# Drawn once: a page has hundreds of marks.
MARKS = {
    name: format_html('<svg class="m" aria-hidden="true"><use href="#m-{}"/></svg>', name)
    for name in ("ok", "part", "no", "wait", "risk", "late", "hand", "taken", "stop")
}

# A day said whole, and how English says it here: the day first.
WHOLE_DAYS = {"long": "d MMMM y", "full": "EEEE d MMMM y"}


def reader_locale(language: str | None = None) -> Locale:
    """The language of the screen, or `language`, as Babel knows it; English where it does not."""
    return _locale(language or get_language() or "en")


@lru_cache(maxsize=32)
def _locale(language: str) -> Locale:
    try:
        return Locale.parse(language, sep="-")
    except (UnknownLocaleError, ValueError):
        return Locale("en")


@register.filter
def day(value: date | None, style: str = "long") -> str:
    """A day in words: "25 November 2026"; style "full" adds the weekday, or a Babel pattern.

    In the figures the user reads, and said whole with the day of their second calendar in brackets.
    Never Django's |date: its month names are wrong in some languages (languages.md 2.2).
    """
    if value is None:
        return ""
    if isinstance(value, datetime):
        value = timezone.localtime(value).date() if timezone.is_aware(value) else value.date()
    locale = reader_locale()
    beside = said.beside(value) if style in WHOLE_DAYS else ""
    if locale.language == "en":
        style = WHOLE_DAYS.get(style, style)
    day = said.written(str(format_date(value, style, locale=locale)))
    return f"{day} ({beside})" if beside else day


@register.filter
def hour(value: datetime | time | Literal[""] | None) -> str:
    """The hour of a moment on the 24-hour clock of the project's zone: "10:05", in ASCII always."""
    if value is None or value == "":
        return ""
    if isinstance(value, datetime) and timezone.is_aware(value):
        value = timezone.localtime(value)
    return f"{value:%H:%M}"


@register.filter
def moment(value: datetime | None) -> str:
    """A moment in words: "23 November 2026, 10:05"."""
    if value is None:
        return ""
    words = pgettext("a day and an hour", "%(day)s, %(hour)s")
    return words % {"day": day(value), "hour": hour(value)}


@register.filter
def figures(value: object) -> object:
    """A count in the figures of the reader; still a number, so that it chooses the plural.

    What is no count, such as a dash for none, stays as it is.
    """
    return said.figures(value) if isinstance(value, int) else value


@register.filter
def decimal(value: float | Literal[""] | None, places: int = 0) -> str:
    """A number with so many places after the point, in the marks and figures of the reader."""
    return "" if value is None or value == "" else said.decimal(value, places)


@register.filter
def listed(items: Iterable[object] | None) -> SafeString:
    """Words in a row as the reader writes a list, each kept to itself: "A, B et C"."""
    shown = [iso(figures(item)) for item in items or ()]
    return SafeString(
        "".join(item + joint_at(place, len(shown)) for place, item in enumerate(shown, 1))
    )


def joint_at(place: int, whole: int) -> SafeString:
    """What stands after item `place` (from 1) of `whole`."""
    return conditional_escape(said.between(place, whole))


@register.filter
def joint(loop: Mapping[str, int]) -> SafeString:
    """What a list has after the item of this turn: `{{ forloop|joint }}` in place of a comma."""
    return joint_at(loop["counter"], loop["counter"] + loop["revcounter0"])


@register.simple_tag
def comma() -> str:
    """The comma of the reader with its space, between two things that are no list: "، "."""
    return said.comma()


@register.simple_tag
def colon() -> str:
    """The colon of the reader between a thing and what is said of it: ": " or " : "."""
    return said.colon()


@register.simple_tag
def full_stop() -> str:
    """What ends a sentence that a template puts together: "." or "।"."""
    return said.full_stop()


@register.filter
def ltr(value: object) -> SafeString:
    """A code, number or hour that keeps its order in a right-to-left line."""
    if value is None or value == "":
        return SafeString("")
    return SafeString(f'<bdi dir="ltr" class="nw">{conditional_escape(str(value))}</bdi>')


@register.filter
def apart(value: object) -> str:
    """The same in plain text, such as a title: between marks where the page runs right to left."""
    said = "" if value is None else str(value)
    return isolated(said, "ltr") if said and get_language_bidi() else said


def with_values(words: str | Promise, **values: str) -> SafeString:
    """Words with %(name)s in them, where values are set: markup of ours as it is, text as text."""
    said = {name: conditional_escape(value) for name, value in values.items()}
    return SafeString(conditional_escape(str(words)) % said)


def with_code(words: str | Promise, code: object) -> SafeString:
    """Words with %(code)s in them, where a code is set that keeps its own order."""
    return with_values(words, code=ltr(code))


def in_language(words: object, lang: str) -> SafeString:
    """Words that are in `lang` (BCP 47) whatever the page is in, marked so for whoever reads."""
    return format_html('<span lang="{}" dir="{}">{}</span>', lang, runs(str(words)), words)


@register.filter
def iso(value: object, how: str = "") -> SafeString:
    """A person's words set into a line of either direction, which keep their own order.

    The one filter they all pass (tests/house/test_isolation.py). The first strong letter decides
    (UAX 9, P2 and P3); what has none runs left to right. With "block" they are lines of their own,
    which also begin at the side of their script: `{{ quote.words|iso:"block"|linebreaksbr }}`.
    """
    if value is None or value == "":
        return SafeString("")
    said = str(value)
    kind = "words para" if how == "block" else "words"
    return format_html('<bdi dir="{}" class="{}">{}</bdi>', runs(said), kind, said)


# `<p dir="{{ said|runs }}">`: for what has an element of its own.
register.filter("runs", runs)


@register.filter
def of_whom(words: str | Promise, who: str) -> SafeString:
    """A sentence with %(who)s in it, said of somebody by name."""
    return SafeString(conditional_escape(str(words)) % {"who": iso(who)})


def code_shown(code: str, page: str = "") -> SafeString:
    """A code as figures, leading to a page of ours where one is given."""
    if not page:
        return format_html('<span class="num">{}</span>', code)
    return format_html('<a class="num" href="{}">{}</a>', page, code)


@register.simple_tag
def mark(name: str) -> SafeString:
    """One drawn mark out of templates/_marks.html; it says nothing to a screen reader."""
    if name not in MARKS:
        raise template.TemplateSyntaxError(f"There is no mark {name!r}.")
    return MARKS[name]


# `{% paper_day form.given_on cell.lang %}`: in the language of the column, not the reader's.
paper_day = register.simple_tag(paper_days.paper_day)
