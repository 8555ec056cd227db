"""A calendar file (RFC 5545): whole days under codes, for any calendar; never a name or a place."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from uuid import UUID

MEDIA_TYPE = "text/calendar; charset=utf-8"
# Octets of a line before its break (RFC 5545, section 3.1).
MOST = 75
ESCAPES = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n", "\r": None})


@dataclass(frozen=True)
class Entry:
    """Days from `first` up to, not including, `until`; the same `key` moves the same entry."""

    key: UUID
    first: date
    until: date
    says: str
    more: str = ""


def write(entries: Iterable[Entry], *, at: datetime) -> bytes:
    """Give the file as UTF-8 with CRLF; `at` (aware) is when it was made.

    ValueError for an entry that ends before it has lasted a day. Source: RFC 5545.
    """
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Relations//Register//EN"]
    for entry in entries:
        lines += _entry(entry, at)
    lines.append("END:VCALENDAR")
    return b"".join(_folded(line) for line in lines)


def _entry(entry: Entry, at: datetime) -> list[str]:
    if entry.until <= entry.first:
        msg = "an entry lasts at least a day"
        raise ValueError(msg)
    more = [f"DESCRIPTION:{entry.more.translate(ESCAPES)}"] if entry.more else []
    return [
        "BEGIN:VEVENT",
        f"UID:{entry.key}",
        f"DTSTAMP:{at.astimezone(UTC):%Y%m%dT%H%M%SZ}",
        f"DTSTART;VALUE=DATE:{entry.first:%Y%m%d}",
        f"DTEND;VALUE=DATE:{entry.until:%Y%m%d}",
        f"SUMMARY:{entry.says.translate(ESCAPES)}",
        *more,
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
    ]


def _folded(line: str) -> bytes:
    """One line in octets, broken within 75 and never inside a letter."""
    pieces, piece = [], b""
    for letter in line:
        octets = letter.encode()
        if len(piece) + len(octets) > MOST:
            pieces.append(piece)
            piece = b" "
        piece += octets
    return b"\r\n".join([*pieces, piece]) + b"\r\n"
