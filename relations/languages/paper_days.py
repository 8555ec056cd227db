"""Days as paper says them: the Gregorian day, which governs, and a second calendar beside it."""

from datetime import date

from babel import Locale, UnknownLocaleError
from babel.dates import format_date

from .digits import to_native
from .direction import direction, isolated
from .local_calendars import Calendar, LocalDay, calendar_of, to_local
from .month_names import ERAS, PROVISIONAL, month_name, own


def gregorian(day: date, lang: str) -> str:
    """Give the Gregorian day in words and digits of `lang`: "25 November 2026"; else English."""
    try:
        locale = Locale.parse(lang, sep="-")
    except (UnknownLocaleError, ValueError):
        locale = Locale("en")
    style = "d MMMM y" if locale.language == "en" else "long"
    return to_native(str(format_date(day, style, locale=locale)), lang)


def local(day: LocalDay, lang: str) -> str:
    """Give a local day: "२०८३ मङ्सिर ९" in Nepali, "9 Mangsir 2083 BS" in plain letters."""
    mine = own(day.calendar, lang)
    name = month_name(day.calendar, day.month, lang)
    era = ERAS[day.calendar].get(mine, "")
    said = f"{day.year} {name} {day.day}" if mine == "ne" else f"{day.day} {name} {day.year} {era}"
    # Where the name is in our letters, our digits stand beside it.
    return isolated(to_native(said, lang), direction(lang)) if mine else isolated(said, "ltr")


def paper_day(day: date | None, lang: str, calendar: str | None = None) -> str:
    """Give one day for a paper in `lang` (BCP 47), isolated by direction; "" for None.

    "25 November 2026", and beside it in brackets the day of `calendar` (a value of `Calendar`),
    by default that of the language: Bikram Sambat for Nepali, Umm al-Qura for ar-SA, else none.
    `Calendar.GREGORIAN` asks for no second one. Outside a calendar's checked range nothing stands
    beside the Gregorian day; a provisional day says so. Plain text: escape it as any other.
    """
    if day is None:
        return ""
    said = gregorian(day, lang)
    asked = calendar_of(lang) if calendar is None else Calendar(calendar)
    second = None if asked is Calendar.GREGORIAN else to_local(day, asked)
    if second:
        more = local(second, lang)
        if second.is_provisional:
            language = lang.lower().replace("_", "-").partition("-")[0]
            more += f", {PROVISIONAL.get(language, PROVISIONAL['en'])}"
        said += f" ({more})"
    return isolated(said, direction(lang))
