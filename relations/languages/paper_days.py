"""Days as paper says them: the Gregorian day, which governs, and a second calendar beside it."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date

from babel import Locale, UnknownLocaleError
from babel.dates import format_date

from .digits import to_native
from .direction import direction, isolated
from .local_calendars import Calendar, LocalDay, calendar_of, to_local
from .month_names import ERAS, PROVISIONAL, month_name, own

# The language of whoever a paper is for, and the calendar that they named.
_reader: ContextVar[tuple[str, Calendar] | None] = ContextVar("reader", default=None)


@contextmanager
def for_reader(lang: str, calendar: Calendar) -> Iterator[None]:
    """Until it ends, days in `lang` bear `calendar` beside them where no other is asked for."""
    before = _reader.set((lang, calendar))
    try:
        yield
    finally:
        _reader.reset(before)


def _beside(lang: str) -> Calendar:
    """The calendar that a reader of `lang` sees beside the Gregorian day."""
    named = _reader.get()
    return named[1] if named and named[0] == lang else calendar_of(lang)


def gregorian(day: date, lang: str) -> str:
    """Give the Gregorian day in words and digits of `lang`: "25 November 2026"; else English."""
    try:
        locale = Locale.parse(lang, sep="-")
    except (UnknownLocaleError, ValueError):
        locale = Locale("en")
    style = "d MMMM y" if locale.language == "en" else "long"
    return to_native(str(format_date(day, style, locale=locale)), lang)


# In which order a language says a day of its own calendar; every other one begins with the day.
_ORDERS = {
    "am": "{name} {day} {year} {era}",
    "ne": "{year} {name} {day} {era}",
    "th": "{day} {name} {era} {year}",
    "ti": "{name} {day} {year} {era}",
}


def local(day: LocalDay, lang: str) -> str:
    """Give a local day: "२०८३ मङ्सिर ९" in Nepali, "9 Mangsir 2083 BS" in plain letters."""
    return local_part(day.calendar, day.year, day.month, day.day, lang)


def local_part(calendar: Calendar, year: int, month: int | None, day: int | None, lang: str) -> str:
    """Give as much of a local day as was said: "9 Mangsir 2083 BS", "Mangsir 2083 BS", "2083 BS".

    `calendar` is another than the Gregorian one.
    """
    mine = own(calendar, lang)
    said = _ORDERS.get(mine, "{day} {name} {year} {era}").format(
        day=day or "",
        name=month_name(calendar, month, lang) if month else "",
        year=year,
        era=ERAS[calendar].get(mine, ""),
    )
    said = " ".join(said.split())
    # Where the name is in our letters, our digits stand beside it.
    return isolated(to_native(said, lang), direction(lang)) if mine else isolated(said, "ltr")


def year_said(calendar: Calendar, year: int) -> str:
    """Give a year alone in plain letters and figures: "1990", "2047 BS"."""
    return f"{year} {ERAS[calendar]['']}" if calendar in ERAS else str(year)


def beside(day: date, lang: str, calendar: Calendar) -> str:
    """Give a day of `calendar` as it stands beside the Gregorian one; "" where none does.

    Outside a calendar's checked range none stands there; a provisional day says so.
    """
    second = None if calendar is Calendar.GREGORIAN else to_local(day, calendar)
    if second is None:
        return ""
    said = local(second, lang)
    if second.is_provisional:
        language = lang.lower().replace("_", "-").partition("-")[0]
        said += f", {PROVISIONAL.get(language, PROVISIONAL['en'])}"
    return said


def paper_day(day: date | None, lang: str, calendar: str | None = None) -> str:
    """Give one day for a paper in `lang` (BCP 47), isolated by direction; "" for None.

    "25 November 2026", and beside it in brackets the day of `calendar` (a value of `Calendar`),
    by default that of whom the paper is for, else that of the language, which for most is none.
    `Calendar.GREGORIAN` asks for no second one. Outside a calendar's checked range nothing stands
    beside the Gregorian day; a provisional day says so. Plain text: escape it as any other.
    """
    if day is None:
        return ""
    said = gregorian(day, lang)
    asked = _beside(lang) if calendar is None else Calendar(calendar)
    if second := beside(day, lang, asked):
        said += f" ({second})"
    return isolated(said, direction(lang))
