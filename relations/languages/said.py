"""Figures, decimals, lists, spans and ages as the reader of a page writes them."""

import re
from collections.abc import Iterable
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache
from unicodedata import bidirectional

from babel import Locale, UnknownLocaleError
from babel.numbers import format_decimal
from django.utils.translation import get_language

from .digits import to_ascii, to_native, to_script
from .direction import direction, isolated
from .local_calendars import Calendar, to_local
from .manner import Figures, Manner, manner
from .month_names import PROVISIONAL, own
from .paper_days import local

# From here on thousands are set apart; a year or a number on a door never is.
GROUPED_FROM = 10_000
# English as these pages write it: "A, B and C", without a comma before the last.
HOUSE = {"en": "en_GB"}
# Scripts whose figures have a comma and a point of their own (CLDR numbering systems).
SYSTEMS = {"\u0660": "arab", "\u06f0": "arabext"}


def speech() -> str:
    """Give the language being spoken, a BCP 47 tag: that of the page or the paper being made."""
    return get_language() or "en"


@lru_cache(maxsize=32)
def locale_of(lang: str) -> Locale:
    """Give a language as Babel knows it; English where it does not."""
    try:
        return Locale.parse(HOUSE.get(lang, lang).replace("-", "_"))
    except (UnknownLocaleError, ValueError):
        return Locale("en", "GB")


def _how(lang: str) -> Manner:
    """The manner of now where it is one of this language; else the usual one of it."""
    now = manner()
    return now if now.language == lang else Manner(lang)


def written(text: str, lang: str = "") -> str:
    """Give `text` with its digits as the reader wants them.

    For our own days and counts only: never for phones, codes, money, hours or addresses.
    """
    lang = lang or speech()
    asked = _how(lang).figures
    if asked is Figures.EUROPEAN:
        return to_ascii(text)
    return to_script(text, lang) if asked is Figures.OWN else to_native(text, lang)


def _counted(value: Decimal, places: int, lang: str) -> str:
    """A number in the marks and figures of `lang`, with so many places after the point."""
    locale = locale_of(lang)
    whole = locale.decimal_formats[None].pattern.partition(".")[0]
    said = format_decimal(
        value,
        f"{whole}.{'0' * places}" if places else whole,
        locale=locale,
        group_separator=abs(value) >= GROUPED_FROM,
        numbering_system=SYSTEMS.get(written("0", lang), "latn"),
    )
    return written(str(said), lang)


class Figure(int):
    """A whole number that writes itself as the page is being spoken: 12 345, १२,३४५, ٣.

    It counts, compares and chooses a plural as the number it is.
    """

    def __str__(self) -> str:
        """Give the figures in the language and manner of this moment."""
        return _counted(Decimal(int(self)), 0, speech())


def figures(number: int) -> Figure:
    """Give a count so that it writes itself in the figures of the page, grouped from 10,000 on."""
    return Figure(number)


def filled(words: object, **values: object) -> str:
    """Give words with values set in at %(name)s or %(name)d; numbers among them as figures."""
    asked = re.sub(r"(%\(\w+\))d", r"\1s", str(words))
    return asked % {
        name: figures(value) if isinstance(value, int) else value for name, value in values.items()
    }


def decimal(value: float | Decimal, places: int = 0) -> str:
    """Give a number with `places` after the point, halves away from nought: "12,5" in French."""
    exact = Decimal(str(value)).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    return _counted(exact, places, speech())


def between(position: int, whole: int, lang: str = "") -> str:
    """Give what stands after item `position` (from 1) of `whole` in a list: ", ", " et ", " و".

    Source: CLDR list patterns of the type standard, as Babel 2.18 has them. Nepali begins a list
    with a bare comma there, and goes on with a comma and a space; it gets the space at once.
    """
    if position >= whole:
        return ""
    patterns = locale_of(lang or speech()).list_patterns["standard"]
    kind = "2" if whole == 2 else "end" if position == whole - 1 else "start"
    found = patterns[kind].removeprefix("{0}").removesuffix("{1}")
    return f"{found} " if found == "," else found


def comma(lang: str = "") -> str:
    """Give the comma of a language with its space: "، " in Arabic script, else ", "."""
    return "، " if direction(lang or speech()) == "rtl" else ", "


def colon(lang: str = "") -> str:
    """Give the colon of a language with its spaces: after a space that does not break in French."""
    return "\u00a0: " if (lang or speech()).partition("-")[0] == "fr" else ": "


def full_stop(lang: str = "") -> str:
    """Give the sign that ends a sentence of a language: the danda in Nepali, else the point."""
    return "।" if (lang or speech()).partition("-")[0] == "ne" else "."


def listed(items: Iterable[object], lang: str = "") -> str:
    """Give a list in words, each item kept to itself: "A, B et C", "A وB وC"; "" for none.

    Plain text with the marks of UAX 9 around the items where they are needed: only in a line that
    runs from right to left, or around an item that does.
    """
    lang = lang or speech()
    said = [str(figures(item) if isinstance(item, int) else item) for item in items]
    return "".join(
        _apart(item, lang) + between(place, len(said), lang) for place, item in enumerate(said, 1)
    )


def _apart(item: str, lang: str) -> str:
    """One item between isolates, where it or the line around it can turn the other."""
    turns = direction(lang) == "rtl" or any(
        bidirectional(letter) in {"R", "AL", "AN"} for letter in item
    )
    return isolated(item) if turns else item


def aged(low: int, high: int) -> str:
    """Give an age that is known roughly: "17–18"; one that is known: "18"."""
    return str(figures(low)) if low == high else f"{figures(low)}–{figures(high)}"


def beside(day: date) -> str:
    """Give a day in the calendar that the user asked for beside the Gregorian one, or "".

    Outside the checked range of that calendar nothing is said; a forecast is said to be one.
    """
    lang = speech()
    asked = _how(lang).calendar
    found = None if asked is Calendar.GREGORIAN else to_local(day, asked)
    if found is None:
        return ""
    words = local(found, lang)
    if found.is_provisional:
        language = lang.partition("-")[0]
        words += f"{comma(lang)}{PROVISIONAL.get(language, PROVISIONAL['en'])}"
    # Beside a month in our letters our digits stand; else those that were asked for.
    return written(to_ascii(words), lang) if own(found.calendar, lang) else words
