"""Days as they are typed: any calendar, any digits, and every reading where there are two."""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from .calendars import FIRST_YEAR, SHAPES, Interval
from .digits import to_ascii
from .direction import strip_marks
from .local_calendars import Calendar, days_of
from .month_names import folded, month_number

# The Gregorian years that a plain number is taken for; a mark such as BS opens the whole range.
LIKELY = range(1900, 2101)
# Letters; no day is written with more, and the shapes below are slow to turn a long text down.
LONGEST = 80

# What marks the year of a calendar, as people write it; from memory.
MARKS: Mapping[Calendar, str] = {
    Calendar.GREGORIAN: "AD CE GC م ميلادي ميلادية میلادی ई_सं ईसं ईस्वी ई ค.ศ. ap_J.-C.",
    Calendar.BIKRAM_SAMBAT: "BS वि_सं विसं वि विक्रम विक्रम_संवत् संवत् Bikram_Sambat VS",
    Calendar.HIJRI: "AH H هـ هجري هجرية هجري_قمري قمري hijri hégire ق ه_ق हिजरी",
    Calendar.SOLAR_HIJRI: "SH AHS HS AP ه_ش هجري_شمسي هجری_شمسی شمسی شمسي خورشیدی خورشيدي لمريز "
    "هجري_لمريز shamsi jalali हिजरी_शम्सी",
    Calendar.ETHIOPIAN: "EC ዓ.ም ዓመተ_ምሕረት ዓመተ_ምህረት إثيوبية إثيوبي इथियोपियाली ethiopian",
    Calendar.BUDDHIST: "BE EB พ.ศ. พุทธศักราช بوذية_تايلندية थाई_बुद्ध_संवत् buddhist",
}
_CALENDARS = {folded(mark): calendar for calendar in MARKS for mark in MARKS[calendar].split()}
_LONGEST = 3  # words of a mark
# What stands in a day without changing it: "९ गते", "1er mars", "25 de noviembre de 2026".
_NOISE = frozenset(
    folded(word)
    for words in (
        "गते gate साल सन् year année año سنة عام سال ዓመት ቀን ปี วันที่ و",
        "of the de del do st nd rd th er le el em in on",
    )
    for word in words.split()
)
_NAMED = (
    re.compile(r"(?P<d>\d{1,2})[-/. ]*(?P<m>\D.*?)[-/. ]*(?P<y>\d{4})"),
    re.compile(r"(?P<y>\d{4})[-/. ]*(?P<m>\D.*?)[-/. ]*(?P<d>\d{1,2})"),
    re.compile(r"(?P<m>\D.*?)[-/. ]*(?P<d>\d{1,2})[-/. ]+(?P<y>\d{4})"),
    re.compile(r"(?P<m>\D.*?)[-/. ]*(?P<y>\d{4})"),
    re.compile(r"(?P<y>\d{4})[-/. ]*(?P<m>\D.*?)"),
)


class Reading(NamedTuple):
    """One way to read what was typed: a calendar, its year, month and day, and what they are.

    `is_figures` where it stood in figures alone, without the name of a month or a mark.
    """

    calendar: Calendar
    year: int
    month: int | None
    day: int | None
    interval: Interval
    is_figures: bool

    @property
    def is_exact(self) -> bool:
        """Whether a single day was said, and no month or year."""
        return self.day is not None

    @property
    def is_plain(self) -> bool:
        """Whether it is what the house writes: a Gregorian day in figures alone."""
        return self.is_figures and self.calendar is Calendar.GREGORIAN


def readings(text: str, usual: Calendar = Calendar.GREGORIAN) -> tuple[Reading, ...]:
    """Read a day, month or year as typed, in each calendar it may be said in; empty: in none.

    Read: 2083-08-09 and 9/8/2083 (day first) with - / . or a space, "२०८३ मङ्सिर ९", "9 Mangsir
    2083 BS", "November 25, 2026", 8/2083, "Mangsir 2083", 2083; in the digits of any script. A
    mark of the year (BS, AH, SH, EC, BE, AD) or the name of a month says the calendar. Figures
    alone are Gregorian, where `usual` is; where it is another, they may be either. A year
    that is neither, such as 1405, is tried in every calendar. More than one reading: ask, and never
    guess. Not read: years of two figures.
    """
    if len(text) > LONGEST:
        return ()
    typed, marked = _unmarked(text)
    if len(marked) > 1:
        return ()
    found = tuple(
        reading
        for calendar in (marked or Calendar)
        for reading in _in(calendar, typed, is_marked=bool(marked))
    )
    if marked:
        return found
    likely = tuple(one for one in found if one.interval.earliest.year in LIKELY)
    if not all(one.is_figures for one in found):
        return likely
    if asked := tuple(one for one in likely if one.calendar in {usual, Calendar.GREGORIAN}):
        return asked
    # 30/2/2026 is a slip of the hand, and no day of Bikram Sambat.
    others = tuple(one for one in likely if one.year not in LIKELY)
    return others or tuple(one for one in found if one.is_plain)


def _unmarked(text: str) -> tuple[str, tuple[Calendar, ...]]:
    """Give what was typed without the marks of a year, and the calendars that they name."""
    kept: list[str] = []
    marked: list[Calendar] = []
    for run in re.split(r"(\d+)", re.sub("[,،፣]", " ", to_ascii(strip_marks(text)))):
        words = run.split()
        calendar, others = _mark_of(words)
        marked += [calendar] if calendar else []
        others = [word for word in others if folded(word) not in _NOISE]
        kept.append(run if others == words else f" {' '.join(others)} ")
    return " ".join("".join(kept).split()), tuple(dict.fromkeys(marked))


def _mark_of(words: Sequence[str]) -> tuple[Calendar | None, Sequence[str]]:
    """Find a mark at either end of the words, the longest first; give the words without it."""
    for size in range(min(_LONGEST, len(words)), 0, -1):
        ends = ((words[:size], words[size:]), (words[-size:], words[:-size]))
        for mark, others in ends:
            if calendar := _CALENDARS.get(folded("".join(mark))):
                return calendar, others
    return None, words


def _in(calendar: Calendar, typed: str, *, is_marked: bool) -> Iterator[Reading]:
    """Give the one reading in a calendar, if there is one."""
    for (year, month, day), is_named in _parts(calendar, typed):
        days = days_of(calendar, year, month, day)
        if days and days[0].year >= FIRST_YEAR:
            yield Reading(
                calendar, year, month, day, Interval(*days), is_figures=not (is_named or is_marked)
            )
            return


def _parts(
    calendar: Calendar, typed: str
) -> Iterator[tuple[tuple[int, int | None, int | None], bool]]:
    """Give year, month and day in every shape that fits, and whether the month was named."""
    for shape in (*SHAPES, *_NAMED):
        if not (said := shape.fullmatch(typed)):
            continue
        parts = said.groupdict()
        month, day = parts.get("m"), parts.get("d")
        is_named = bool(month) and not str(month).isdecimal()
        number = month_number(calendar, str(month)) if is_named else month and int(month)
        if number or month is None:
            yield (int(parts["y"]), number or None, int(day) if day else None), is_named
