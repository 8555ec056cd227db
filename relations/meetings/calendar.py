"""A calendar file (RFC 5545): days and hours under codes, for any calendar; no name, no place."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from uuid import UUID

MEDIA_TYPE = "text/calendar; charset=utf-8"
# Octets of a line before its break (RFC 5545, section 3.1).
MOST = 75
# Of text in a line (RFC 5545, section 3.3.11; RFC 6350, section 3.4).
ESCAPES = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n", "\r": None})


@dataclass(frozen=True)
class Entry:
    """Days from `first` up to, not including, `until`; the same `key` moves the same entry."""

    key: UUID
    first: date
    until: date
    says: str
    more: str = ""


@dataclass(frozen=True)
class Hour:
    """What begins at a moment (`at`, aware) and lasts for a while; the same `key` moves it."""

    key: UUID
    at: datetime
    lasts: timedelta
    says: str


def write(entries: Iterable[Entry | Hour], *, at: datetime) -> bytes:
    """Give the file as UTF-8 with CRLF; `at` (aware) is when it was made.

    ValueError for an entry that ends before it has lasted a day, an hour before it has begun.
    Source: RFC 5545.
    """
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Relations//Register//EN"]
    for entry in entries:
        lines += _entry(entry, at)
    lines.append("END:VCALENDAR")
    return b"".join(folded(line) for line in lines)


def _entry(entry: Entry | Hour, at: datetime) -> list[str]:
    return [
        "BEGIN:VEVENT",
        f"UID:{entry.key}",
        f"DTSTAMP:{_moment(at)}",
        *(_of_days(entry) if isinstance(entry, Entry) else _of_hours(entry)),
        "END:VEVENT",
    ]


def _of_days(entry: Entry) -> list[str]:
    if entry.until <= entry.first:
        msg = "an entry lasts at least a day"
        raise ValueError(msg)
    more = [f"DESCRIPTION:{entry.more.translate(ESCAPES)}"] if entry.more else []
    return [
        f"DTSTART;VALUE=DATE:{entry.first:%Y%m%d}",
        f"DTEND;VALUE=DATE:{entry.until:%Y%m%d}",
        f"SUMMARY:{entry.says.translate(ESCAPES)}",
        *more,
        "TRANSP:TRANSPARENT",
    ]


def _of_hours(hour: Hour) -> list[str]:
    """In universal time: right in every calendar, also over a change of the clocks."""
    if hour.lasts <= timedelta():
        msg = "an hour ends after it begins"
        raise ValueError(msg)
    return [
        f"DTSTART:{_moment(hour.at)}",
        f"DTEND:{_moment(hour.at + hour.lasts)}",
        f"SUMMARY:{hour.says.translate(ESCAPES)}",
        # To whom the calendar is shown is told no more than that the time is taken.
        "CLASS:PRIVATE",
    ]


def _moment(at: datetime) -> str:
    return f"{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def folded(line: str) -> bytes:
    """One line in octets, broken within 75 and never inside a letter; a card folds as well.

    Source: RFC 5545, section 3.1; RFC 6350, section 3.2.
    """
    pieces, piece = [], b""
    for letter in line:
        octets = letter.encode()
        if len(piece) + len(octets) > MOST:
            pieces.append(piece)
            piece = b" "
        piece += octets
    return b"\r\n".join([*pieces, piece]) + b"\r\n"
